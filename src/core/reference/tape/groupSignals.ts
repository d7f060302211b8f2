import { median } from '../line/contrastDirection.ts';
import { BAND_ROWS, type InkBand } from './inkBand.ts';

/** Row groups taken apart: one edge, the two middles, the other edge. */
const GROUPS = 4;
/** Departures beyond so many medians of theirs are cut: crumbs and leaves are dark and few, marks faint and many. */
const MOST_MEDIANS = 3;

/** Print of each row group along the ribbon, mean 0 over a moving window, 0 where covered. */
export function groupSignals(band: InkBand, windowColumns: number): Float32Array[] {
  const per = BAND_ROWS / GROUPS;
  return Array.from({ length: GROUPS }, (_, g) => {
    const sum = new Float32Array(band.columns);
    for (let r = g * per; r < (g + 1) * per; r++) {
      const row = band.rows[r]!;
      for (let k = 0; k < band.columns; k++) sum[k]! += row[k]! / per;
    }
    return withoutTrend(sum, band.valid, windowColumns);
  });
}

/** The same with what stands out far cut: faint marks show more clearly beside dirt, their lengths less. */
export function cutSignal(signal: Float32Array): Float32Array {
  const sizes = signal.filter((v) => v !== 0).map(Math.abs);
  if (sizes.length === 0) return signal;
  const most = MOST_MEDIANS * median(Array.from(sizes));
  return signal.map((v) => Math.max(-most, Math.min(most, v)));
}

function withoutTrend(signal: Float32Array, valid: Uint8Array, window: number): Float32Array {
  const n = signal.length;
  const total = new Float64Array(n + 1);
  const count = new Float64Array(n + 1);
  for (let k = 0; k < n; k++) {
    total[k + 1] = total[k]! + (valid[k] ? signal[k]! : 0);
    count[k + 1] = count[k]! + valid[k]!;
  }
  const half = window >> 1;
  const out = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    if (!valid[k]) continue;
    const a = Math.max(0, k - half);
    const b = Math.min(n, k + half + 1);
    const c = count[b]! - count[a]!;
    out[k] = c > 0 ? signal[k]! - (total[b]! - total[a]!) / c : 0;
  }
  return out;
}
