import { norm } from '../../geometry/norm.ts';
import type { EdgePairs } from './edgePairs.ts';

export interface VotedLine {
  /** Angle of the normal, radians in [0, pi), and distance of the line from the picture's middle, px. */
  readonly angle: number;
  readonly rho: number;
  readonly votes: number;
}

const ANGLES = 180;
const SPREAD = 5;

/**
 * Hough transform (Duda and Hart 1972) of oriented midpoints: each votes only for lines near its own orientation.
 * Returns the strongest lines, apart by more than a few degrees or pixels.
 */
export function lineVotes(pairs: EdgePairs, widthPx: number, heightPx: number, most: number): VotedLine[] {
  const cx = (widthPx - 1) / 2;
  const cy = (heightPx - 1) / 2;
  const bin = 3;
  const half = Math.ceil(norm(widthPx, heightPx) / 2 / bin) + 2;
  const across = 2 * half + 1;
  const votes = new Float32Array((ANGLES + 1) * across);
  // single precision: there every engine's sine and cosine round alike
  const cos = Float32Array.from({ length: ANGLES }, (_, i) => Math.cos((i * Math.PI) / ANGLES));
  const sin = Float32Array.from({ length: ANGLES }, (_, i) => Math.sin((i * Math.PI) / ANGLES));
  for (let k = 0; k < pairs.count; k++) {
    const x = pairs.x[k]! - cx;
    const y = pairs.y[k]! - cy;
    const at = Math.round((pairs.angle[k]! * ANGLES) / Math.PI);
    for (let d = -SPREAD; d <= SPREAD; d++) {
      const a = (at + d + ANGLES) % ANGLES;
      const place = (x * cos[a]! + y * sin[a]!) / bin + half;
      const low = Math.floor(place);
      const f = place - low;
      votes[a * across + low]! += 1 - f;
      votes[a * across + low + 1]! += f;
    }
  }
  const lines: VotedLine[] = [];
  const taken = new Uint8Array(votes.length);
  while (lines.length < most) {
    let best = -1;
    let top = 12;
    for (let i = 0; i < ANGLES * across; i++) {
      if (taken[i] === 0 && votes[i]! > top) {
        top = votes[i]!;
        best = i;
      }
    }
    if (best < 0) break;
    const a = Math.floor(best / across);
    const r = best - a * across;
    lines.push({ angle: (a * Math.PI) / ANGLES, rho: (r - half) * bin, votes: top });
    for (let d = -8; d <= 8; d++) {
      const wrapped = a + d < 0 || a + d >= ANGLES;
      const aa = (a + d + ANGLES) % ANGLES;
      const rr = wrapped ? 2 * half - r : r;
      const reach = 4 + Math.abs(d) * 2;
      for (let e = Math.max(0, rr - reach); e <= Math.min(across - 1, rr + reach); e++) taken[aa * across + e] = 1;
    }
  }
  return lines;
}
