import { norm } from '../../geometry/norm.ts';
import type { EdgePairs } from './edgePairs.ts';
import type { VotedLine } from './lineVotes.ts';
import { orderOf } from './orderOf.ts';
import type { Ribbon } from './ribbon.ts';
import { solveLeastSquares } from './solveLeastSquares.ts';

export interface FittedRibbon {
  readonly ribbon: Ribbon;
  /** Length over which midpoints of the fitted width were seen, px. */
  readonly supportPx: number;
}

const BIN_PX = 4;

/**
 * Fits centre line (with bow) and width (linear along the line) to the edge pairs near a voted line, by consensus over
 * evenly spread triples (RANSAC of Fischler and Bolles 1981 with a fixed order instead of chance). The extent runs over
 * the best stretch of supported bins, bridging gaps shorter than what it gains. Pairs nearer than `leastWidthPx` are left
 * out: a highlight along a round rod is a ribbon inside a ribbon.
 */
export function fitRibbon(
  pairs: EdgePairs,
  line: Pick<VotedLine, 'angle' | 'rho'>,
  widthPx: number,
  heightPx: number,
  leastWidthPx: number,
): FittedRibbon | null {
  // single precision: there every engine's sine and cosine round alike
  const nx = Math.fround(Math.cos(line.angle));
  const ny = Math.fround(Math.sin(line.angle));
  const [dx, dy] = [ny, -nx];
  const origin = [(widthPx - 1) / 2 + line.rho * nx, (heightPx - 1) / 2 + line.rho * ny] as const;
  const scaleS = norm(widthPx, heightPx) / 2;
  const reach = 8 + 0.008 * scaleS;
  const near = new Int32Array(pairs.count);
  let n = 0;
  for (let k = 0; k < pairs.count; k++) {
    const off = (pairs.x[k]! - origin[0]) * nx + (pairs.y[k]! - origin[1]) * ny;
    if (off > reach || off < -reach) continue;
    let turn = Math.abs(pairs.angle[k]! - line.angle);
    if (turn > Math.PI / 2) turn = Math.PI - turn;
    if (turn > 0.25 || pairs.widthPx[k]! < leastWidthPx) continue;
    near[n++] = k;
  }
  if (n < 20) return null;
  const s = new Float64Array(n);
  const v = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const px = pairs.x[near[i]!]! - origin[0];
    const py = pairs.y[near[i]!]! - origin[1];
    s[i] = (px * dx + py * dy) / scaleS;
    v[i] = px * nx + py * ny;
    w[i] = pairs.widthPx[near[i]!]!;
  }
  const order = orderOf(s);
  const third = Math.floor(n / 3);
  const bins = Math.ceil((2 * scaleS) / BIN_PX) + 2;
  const seen = new Int32Array(bins).fill(-1);
  let best: { bow: number[]; width: [number, number] } | null = null;
  let bestSupport = 0;
  const tries = 160;
  // enough points to tell models apart; the one chosen is measured on all
  const stride = Math.max(1, Math.floor(n / 1200));
  const binOf = s.map((at) => Math.floor(((at + 1) * scaleS) / BIN_PX));
  for (let t = 0; t < tries; t++) {
    const i = order[(t * 7919) % third]!;
    const j = order[third + ((t * 104729) % third)]!;
    const k = order[2 * third + ((t * 1299709 + 17) % third)]!;
    if (s[k]! - s[i]! < 0.03) continue;
    // every other try is straight: short or sparse ribbons do not carry three good points
    const model = t % 2 === 0 ? through3(i, j, k) : through2(i, k);
    if (model === null) continue;
    const [b0, b1, b2] = model.bow as [number, number, number];
    const [w0, w1] = model.width;
    let support = 0;
    for (let p = 0; p < n; p += stride) {
      const at = s[p]!;
      if (Math.abs(v[p]! - ((b2 * at + b1) * at + b0)) > 1.4) continue;
      const wide = w0 + w1 * at;
      if (wide < 1.5 || Math.abs(w[p]! - wide) > Math.max(1.2, 0.12 * wide)) continue;
      const bin = binOf[p]!;
      if (bin < 0 || bin >= bins || seen[bin] === t) continue;
      seen[bin] = t;
      support++;
    }
    if (support > bestSupport) {
      bestSupport = support;
      best = model;
    }
  }
  if (best === null) return null;
  return finish(best);

  function through3(i: number, j: number, k: number) {
    const bow = solveLeastSquares(
      [i, j, k].map((p) => [1, s[p]!, s[p]! * s[p]!]),
      [v[i]!, v[j]!, v[k]!],
      null,
    );
    const width = solveLeastSquares(
      [i, j, k].map((p) => [1, s[p]!]),
      [w[i]!, w[j]!, w[k]!],
      null,
    );
    if (bow === null || width === null || Math.abs(bow[2]!) > 0.05 * scaleS) return null;
    return { bow, width: width as [number, number] };
  }

  function through2(i: number, k: number) {
    const gap = s[k]! - s[i]!;
    const slope = (v[k]! - v[i]!) / gap;
    const taper = (w[k]! - w[i]!) / gap;
    return {
      bow: [v[i]! - slope * s[i]!, slope, 0],
      width: [w[i]! - taper * s[i]!, taper] as [number, number],
    };
  }

  function finish(model: { bow: number[]; width: [number, number] }): FittedRibbon | null {
    const marks = new Uint8Array(bins);
    for (let p = 0; p < n; p++) {
      const at = s[p]!;
      const wide = model.width[0] + model.width[1] * at;
      if (wide < 1.5 || Math.abs(w[p]! - wide) > Math.max(1.2, 0.14 * wide)) continue;
      if (Math.abs(v[p]! - ((model.bow[2]! * at + model.bow[1]!) * at + model.bow[0]!)) > 2) continue;
      const bin = Math.floor(((at + 1) * scaleS) / BIN_PX);
      if (bin >= 0 && bin < bins) marks[bin] = 1;
    }
    const [from, to, count] = bestStretch(marks);
    if (count < 6) return null;
    return {
      ribbon: {
        origin,
        dir: [dx, dy],
        bow: model.bow,
        width: model.width,
        scaleS,
        fromS: from * BIN_PX - scaleS,
        toS: (to + 1) * BIN_PX - scaleS,
      },
      supportPx: count * BIN_PX,
    };
  }
}

/** The run with the greatest (supported bins - 0.3 bins of run): a gap is bridged when enough lies beyond it. */
function bestStretch(marks: Uint8Array): [number, number, number] {
  let best = 0;
  let from = 0;
  let to = -1;
  let sum = 0;
  let start = 0;
  for (let i = 0; i < marks.length; i++) {
    sum += marks[i]! - 0.3;
    if (sum <= 0) {
      sum = 0;
      start = i + 1;
    } else if (sum > best) {
      best = sum;
      from = start;
      to = i;
    }
  }
  let count = 0;
  for (let i = from; i <= to; i++) count += marks[i]!;
  return [from, to, count];
}
