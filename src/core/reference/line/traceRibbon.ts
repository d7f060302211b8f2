import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { contrastDirection, median } from './contrastDirection.ts';
import { type Ribbon, ribbonOffset, ribbonWidth } from './ribbon.ts';
import { sampleAcross } from './sampleAcross.ts';
import { solveLeastSquares } from './solveLeastSquares.ts';

export interface TracedRibbon {
  readonly ribbon: Ribbon;
  /** Log-colour direction in which the ribbon stands 1 above what lies beside it. */
  readonly contrast: readonly [number, number, number];
  /** Share of the cross-sections in which both edges were found where the fit puts them. */
  readonly edgeShare: number;
  /** Robust spread of edge places about the fit, px. */
  readonly edgeSpreadPx: number;
  /** Expected error (1 sd) of the relative taper width[1] scale over the ribbon's length, px of width. */
  readonly taperSdPx: number;
}

/** An outer rise counts when it has this share of the steepest. */
const OUTER_SHARE = 0.45;

interface Edge {
  readonly s: number;
  readonly v: number;
  readonly side: -1 | 1;
}

/**
 * Refines a roughly known ribbon on the full photo: cross-sections averaged over short stretches, the colour contrast
 * learnt from the ribbon itself, both edges to a fraction of a pixel, then a robust fit (Tukey weights) of a bowed
 * centre line and a linear width. A ribbon of `several` colours (bands) takes the contrast of each section by itself. Null when no consistent contrast is there.
 */
export function traceRibbon(
  photo: Raster,
  rough: Ribbon,
  tolerancePx: number,
  colours: 'one' | 'several' = 'one',
): TracedRibbon | null {
  let ribbon = rough;
  let traced: TracedRibbon | null = null;
  for (const reach of [tolerancePx, tolerancePx, Math.max(2, tolerancePx / 2)]) {
    const next = tracePass(photo, ribbon, reach, colours);
    if (next === null) return traced;
    traced = next;
    ribbon = next.ribbon;
  }
  return traced;
}

function tracePass(photo: Raster, rough: Ribbon, tolerancePx: number, colours: 'one' | 'several'): TracedRibbon | null {
  const span = rough.toS - rough.fromS;
  const wMid = ribbonWidth(rough, (rough.fromS + rough.toS) / 2);
  const step = Math.max(5, Math.min(span / 24, Math.max(0.7 * wMid, span / 160)));
  const count = Math.max(6, Math.floor(span / step));
  const sections: { s: number; w: number; fromV: number; steps: number; profile: Float32Array }[] = [];
  const deltas: [number, number, number][] = [];
  for (let k = 0; k < count; k++) {
    const from = rough.fromS + (span * k) / count;
    const to = rough.fromS + (span * (k + 1)) / count;
    const s = (from + to) / 2;
    const w = Math.max(1.5, ribbonWidth(rough, s));
    const half = w / 2 + Math.max(tolerancePx + 3, 0.6 * w);
    const steps = Math.ceil((2 * half) / 0.5) + 1;
    const profile = new Float32Array(3 * steps);
    const columns = Math.max(4, Math.min(14, Math.round(to - from)));
    if (sampleAcross(photo, rough, from, to, columns, -half, 0.5, steps, profile) < 0.9) continue;
    sections.push({ s, w, fromV: -half, steps, profile });
    const inner: number[] = [0, 0, 0];
    const outer: number[] = [0, 0, 0];
    let nIn = 0;
    let nOut = 0;
    for (let i = 0; i < steps; i++) {
      const v = Math.abs(-half + 0.5 * i);
      const to = v < 0.35 * w ? inner : v > w / 2 + Math.max(1, tolerancePx * 0.5) ? outer : null;
      if (to === null) continue;
      for (let c = 0; c < 3; c++) to[c]! += profile[c * steps + i]!;
      if (to === inner) nIn++;
      else nOut++;
    }
    if (nIn > 0 && nOut > 0)
      deltas.push([0, 1, 2].map((c) => inner[c]! / nIn - outer[c]! / nOut) as [number, number, number]);
  }
  const contrast =
    contrastDirection(deltas) ?? (colours === 'several' ? ([0, 0, 0] as [number, number, number]) : null);
  if (contrast === null) return null;
  const edges: Edge[] = [];
  const strengths: number[] = [];
  // a rod has no ticks, but a shadow beside it
  const outerShare = colours === 'one' ? OUTER_SHARE : 0.95;
  const found = sections.map((section, k) => {
    const line = project(section.profile, section.steps, colours === 'one' ? contrast : ownContrast(deltas[k]!));
    return ([-1, 1] as const).map((side) => {
      const edge = bestEdge(line, section.fromV, side, (side * section.w) / 2, tolerancePx, outerShare);
      if (edge !== null) strengths.push(edge.strength);
      return edge;
    });
  });
  const usual = median(strengths);
  if (!(usual > 0)) return null;
  found.forEach((pair, k) => {
    const section = sections[k]!;
    for (const [i, edge] of pair.entries()) {
      if (edge === null || edge.strength < 0.4 * usual) continue;
      edges.push({ s: section.s, v: edge.v + ribbonOffset(rough, section.s), side: i === 0 ? -1 : 1 });
    }
  });
  return fitEdges(rough, contrast, edges, 2 * count);
}

/** The direction of a section's own colour difference, scaled so that the difference projects to 1; zero for hardly any. */
function ownContrast(delta: readonly [number, number, number]): readonly [number, number, number] {
  const size = square(delta[0]) + square(delta[1]) + square(delta[2]);
  return size < 0.02 ? [0, 0, 0] : [delta[0] / size, delta[1] / size, delta[2] / size];
}

function fitEdges(
  rough: Ribbon,
  contrast: readonly [number, number, number],
  edges: readonly Edge[],
  possible: number,
): TracedRibbon | null {
  if (edges.length < 12) return null;
  const t = (s: number): number => s / rough.scaleS;
  // a cubic only where the ribbon is long and dense enough to need one
  const degree = edges.length > 80 ? 3 : 2;
  const rows = edges.map((e) => {
    const x = t(e.s);
    const powers = [1, x, x * x, x * x * x].slice(0, degree + 1);
    return [...powers, e.side / 2, (e.side * x) / 2];
  });
  const values = edges.map((e) => e.v);
  let weights = edges.map(() => 1);
  let params: number[] | null = null;
  let spread = 1;
  for (let pass = 0; pass < 8; pass++) {
    params = solveLeastSquares(rows, values, weights);
    if (params === null) return null;
    const residuals = rows.map((row, k) => values[k]! - row.reduce((sum, x, i) => sum + x * params![i]!, 0));
    spread = Math.max(0.05, 1.4826 * median(residuals.map(Math.abs)));
    weights = residuals.map((r) => {
      const u = r / (4.685 * spread);
      return Math.abs(u) < 1 ? square(1 - u * u) : 0;
    });
  }
  if (params === null) return null;
  const good = weights.filter((w) => w > 0.1).length;
  const width: [number, number] = [params[degree + 1]!, params[degree + 2]!];
  const ribbon: Ribbon = { ...rough, bow: params.slice(0, degree + 1), width };
  if (ribbonWidth(ribbon, ribbon.fromS) < 1 || ribbonWidth(ribbon, ribbon.toS) < 1) return null;
  return {
    ribbon,
    contrast,
    edgeShare: good / possible,
    edgeSpreadPx: spread,
    taperSdPx: (spread * 2 * Math.sqrt(12)) / Math.sqrt(Math.max(1, good)) / 1.4,
  };
}

function project(profile: Float32Array, steps: number, u: readonly [number, number, number]): Float32Array {
  const line = new Float32Array(steps);
  for (let i = 0; i < steps; i++) {
    line[i] = u[0] * profile[i]! + u[1] * profile[steps + i]! + u[2] * profile[2 * steps + i]!;
  }
  return line;
}

/**
 * The outermost clear rise towards the middle near `expected`, to a fraction of a step. Not the steepest: fine ticks that
 * blur to a grey margin make a second, inner rise where they end.
 */
function bestEdge(
  line: Float32Array,
  fromV: number,
  side: -1 | 1,
  expected: number,
  tolerancePx: number,
  outerShare: number,
): { v: number; strength: number } | null {
  const slope = (i: number): number =>
    -side * (line[i + 1]! + line[i + 2]! + line[i + 3]! - line[i - 1]! - line[i - 2]! - line[i - 3]!);
  const first = Math.max(4, Math.ceil((expected - tolerancePx - fromV) / 0.5));
  const last = Math.min(line.length - 5, Math.floor((expected + tolerancePx - fromV) / 0.5));
  let steepest = 0;
  for (let i = first; i <= last; i++) steepest = Math.max(steepest, slope(i));
  if (steepest <= 0) return null;
  for (let j = 0; j <= last - first; j++) {
    const i = side < 0 ? first + j : last - j;
    const m = slope(i);
    const [a, c] = [slope(i - 1), slope(i + 1)];
    if (m < outerShare * steepest || a > m || c > m) continue;
    const bend = a - 2 * m + c;
    const shift = bend < 0 ? Math.max(-0.5, Math.min(0.5, (0.5 * (a - c)) / bend)) : 0;
    return { v: fromV + 0.5 * (i + shift), strength: steepest };
  }
  return null;
}
