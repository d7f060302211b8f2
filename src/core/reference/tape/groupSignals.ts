import { BAND_ROWS, type InkBand } from './inkBand.ts';

/** Row groups taken apart: one edge, the two middles, the other edge. */
const GROUPS = 4;

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
