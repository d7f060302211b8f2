import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { bestRun } from '../line/bestRun.ts';
import { median } from '../line/contrastDirection.ts';
import { type Ribbon, ribbonWidth } from '../line/ribbon.ts';
import { ribbonEnd } from '../line/ribbonEnd.ts';
import type { RibbonExtent } from '../line/ribbonExtent.ts';
import { ribbonInPicture } from '../line/ribbonInPicture.ts';
import { sampleAcross } from '../line/sampleAcross.ts';
import { type Colour, tint } from './tint.ts';

export interface RodExtent extends RibbonExtent {
  /** The rod's one colour, or its two band colours (median log colour), by share of the rod. */
  readonly colours: readonly Colour[];
  /** Colour of the rod's middle every `stepPx` from fromS. */
  readonly profile: readonly Colour[];
  readonly profileFromS: number;
  readonly stepPx: number;
}

/** Log colour difference below which a cross-section does not stand out from the soil beside it. */
const LEAST_CONTRAST = 0.1;

/**
 * How far a rod of one or two colours reaches along a traced ribbon: cross-sections that differ from both sides and have
 * one of the rod's own colours, with covered stretches bridged.
 */
export function rodExtent(photo: Raster, ribbon: Ribbon): RodExtent | null {
  const [low, high] = ribbonInPicture(photo, ribbon);
  const wMid = ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
  const step = Math.max(1, Math.min(3, wMid / 8));
  const count = Math.floor((high - low) / step);
  if (count < 16) return null;
  const inner: Colour[] = [];
  const differs = new Float32Array(count);
  for (let k = 0; k < count; k++) {
    const from = low + k * step;
    const w = Math.max(1.5, ribbonWidth(ribbon, from + step / 2));
    const half = 1.1 * w + 2;
    const steps = Math.max(9, Math.ceil((2 * half) / Math.max(0.5, w / 12)) | 1);
    const stepV = (2 * half) / (steps - 1);
    const out = new Float32Array(3 * steps);
    sampleAcross(photo, ribbon, from, from + step, Math.max(1, Math.round(step)), -half, stepV, steps, out);
    const sums = [
      [0, 0, 0, 0],
      [0, 0, 0, 0],
      [0, 0, 0, 0],
    ];
    for (let i = 0; i < steps; i++) {
      const v = -half + i * stepV;
      const part = Math.abs(v) < 0.33 * w ? 1 : v < -(0.6 * w + 1) ? 0 : v > 0.6 * w + 1 ? 2 : -1;
      if (part < 0) continue;
      const sum = sums[part]!;
      for (let c = 0; c < 3; c++) sum[c]! += out[c * steps + i]!;
      sum[3]!++;
    }
    const [left, mid, right] = sums.map((s) => [s[0]! / s[3]!, s[1]! / s[3]!, s[2]! / s[3]!] as const) as [
      Colour,
      Colour,
      Colour,
    ];
    inner.push(mid);
    differs[k] = Math.min(distance(mid, left), distance(mid, right));
  }
  const inRough = (k: number): boolean => low + k * step >= ribbon.fromS && low + (k + 1) * step <= ribbon.toS;
  const sure: Colour[] = [];
  for (let k = 0; k < count; k++) if (inRough(k) && differs[k]! > LEAST_CONTRAST) sure.push(inner[k]!);
  if (sure.length < 12) return null;
  const colours = oneOrTwo(sure);
  const nearest = inner.map((c) => {
    const near = colours.map((own) => tint(c, own));
    return near[1] !== undefined && near[1] < near[0]! ? { own: 1, off: near[1] } : { own: 0, off: near[0]! };
  });
  // a white band on pale soil differs from it less than a black one
  const usual = colours.map((_, own) =>
    median(Array.from(differs).filter((d, k) => inRough(k) && nearest[k]!.own === own && d > LEAST_CONTRAST)),
  );
  const likeness = new Float32Array(count);
  for (let k = 0; k < count; k++) {
    const { own, off } = nearest[k]!;
    const like = Math.max(0, 1 - off / 0.6) * Math.min(1, differs[k]! / (0.6 * usual[own]!));
    likeness[k] = like > 0.3 ? Math.min(1, like * 1.6) : like;
  }
  const [from, to, visible] = bestRun(likeness);
  if (to - from < 12) return null;
  const ends = ([-1, 1] as const).map((way) => {
    const at = low + (way < 0 ? from : to + 1) * step;
    const local: Colour[] = [];
    const reach = Math.max(4, Math.round((1.5 * wMid) / step));
    for (let i = 2; i < reach; i++) local.push(inner[Math.max(0, Math.min(count - 1, way < 0 ? from + i : to - i))]!);
    const colour = [0, 1, 2].map((c) => median(local.map((x) => x[c]!))) as [number, number, number];
    return ribbonEnd(photo, ribbon, colour, at, way, way < 0 ? low : high);
  });
  const [a, b] = ends as [(typeof ends)[0], (typeof ends)[0]];
  if (b.s - a.s < 6 * wMid) return null;
  return {
    ribbon: { ...ribbon, fromS: a.s, toS: b.s },
    endsSeen: [a.seen, b.seen],
    endSdPx: [a.sdPx, b.sdPx],
    visibleShare: visible / (to - from + 1),
    colour: colours[0] as [number, number, number],
    colours,
    profile: inner,
    profileFromS: low + step / 2,
    stepPx: step,
  };
}

function distance(a: Colour, b: Colour): number {
  return norm(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/** Two-means of colours from their farthest pair; one colour when the two lie close or one is rare. */
function oneOrTwo(colours: readonly Colour[]): Colour[] {
  const mid = mean(colours);
  const far = colours.reduce((best, c) => (distance(c, mid) > distance(best, mid) ? c : best));
  let one = colours.reduce((best, c) => (distance(c, far) > distance(best, far) ? c : best));
  let two = far;
  let parts: [Colour[], Colour[]] = [[], []];
  for (let pass = 0; pass < 8; pass++) {
    parts = [[], []];
    for (const c of colours) parts[distance(c, one) <= distance(c, two) ? 0 : 1].push(c);
    if (parts[0].length === 0 || parts[1].length === 0) return [mid];
    one = middle(parts[0]);
    two = middle(parts[1]);
  }
  const spread = median(parts.flatMap((p, i) => p.map((c) => distance(c, i === 0 ? one : two))));
  const share = Math.min(parts[0].length, parts[1].length) / colours.length;
  if (share < 0.12 || distance(one, two) < Math.max(0.3, 2.5 * spread)) return [middle(colours)];
  return parts[0].length >= parts[1].length ? [one, two] : [two, one];
}

function mean(colours: readonly Colour[]): Colour {
  return [0, 1, 2].map((c) => colours.reduce((sum, x) => sum + x[c]!, 0) / colours.length) as unknown as Colour;
}

function middle(colours: readonly Colour[]): Colour {
  return [0, 1, 2].map((c) => median(colours.map((x) => x[c]!))) as unknown as Colour;
}
