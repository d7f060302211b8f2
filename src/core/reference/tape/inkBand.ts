import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonOffset, ribbonWidth } from '../line/ribbon.ts';
import { LOG_LEVEL } from '../line/sampleAcross.ts';

/** Rows across the ribbon of the rectified band. */
export const BAND_ROWS = 12;

/**
 * A ribbon rectified at about one column a photo pixel: how much darker than its bare surface each place is (log units,
 * 0 bare). Column k lies at s = fromS + k * stepS. Row 0 is the edge at negative v.
 */
export interface InkBand {
  readonly columns: number;
  readonly fromS: number;
  readonly stepS: number;
  readonly rows: readonly Float32Array[];
  /** 0 where something other than the ribbon (a leaf, soil) lies there. */
  readonly valid: Uint8Array;
  /** Mean excess of red over green light against the bare surface, log units: red figures stand out. 0 where not valid. */
  readonly red: Float32Array;
}

/**
 * Reads the print off a ribbon. Ink is taken from green light, dark under black, red and blue print on yellow, white and
 * wood alike; the bare surface of a column is the upper quartile of its neighbourhood, so that shade divides out.
 */
export function inkBand(photo: Raster, ribbon: Ribbon, colour: readonly [number, number, number]): InkBand {
  const length = ribbon.toS - ribbon.fromS;
  const columns = Math.max(16, Math.round(length));
  const stepS = length / columns;
  const { widthPx, heightPx, data } = photo;
  const rows = Array.from({ length: BAND_ROWS }, () => new Float32Array(columns));
  const valid = new Uint8Array(columns);
  const redness = new Float32Array(columns);
  const bare = new Float32Array(columns);
  const values = new Float32Array(BAND_ROWS);
  const tint = [colour[0] - colour[1], colour[2] - colour[1]] as const;
  const [dx, dy] = ribbon.dir;
  for (let k = 0; k < columns; k++) {
    const s = ribbon.fromS + (k + 0.5) * stepS;
    const w = ribbonWidth(ribbon, s);
    const off = ribbonOffset(ribbon, s);
    let red = 0;
    let blue = 0;
    let seen = 0;
    for (let r = 0; r < BAND_ROWS; r++) {
      const o = off + ((r + 0.5) / BAND_ROWS - 0.5) * w;
      const x = ribbon.origin[0] + s * dx - o * dy;
      const y = ribbon.origin[1] + s * dy + o * dx;
      const x0 = Math.floor(x);
      const y0 = Math.floor(y);
      if (x0 < 0 || y0 < 0 || x0 + 1 >= widthPx || y0 + 1 >= heightPx) {
        values[r] = rows[r]![k] = Number.NaN;
        continue;
      }
      const fx = x - x0;
      const fy = y - y0;
      const at = (y0 * widthPx + x0) * 4;
      const down = widthPx * 4;
      const mix = (c: number): number =>
        (data[at + c]! * (1 - fx) + data[at + 4 + c]! * fx) * (1 - fy) +
        (data[at + down + c]! * (1 - fx) + data[at + down + 4 + c]! * fx) * fy;
      const g = Math.log(mix(1) + 6);
      rows[r]![k] = g;
      values[r] = g;
      red += LOG_LEVEL[data[at]!]! - LOG_LEVEL[data[at + 1]!]!;
      blue += LOG_LEVEL[data[at + 2]!]! - LOG_LEVEL[data[at + 1]!]!;
      seen++;
    }
    if (seen < BAND_ROWS) {
      bare[k] = Number.NaN;
      continue;
    }
    const sorted = Float32Array.from(values).sort();
    bare[k] = sorted[Math.floor(BAND_ROWS * 0.75)]!;
    const off0 = red / seen - tint[0];
    const off1 = blue / seen - tint[1];
    redness[k] = off0;
    // leaves and soil differ in tint from the ribbon; print and shade hardly do
    valid[k] = Math.abs(off0) < 0.22 && off1 > -0.45 && off1 < 0.4 && bare[k]! - colour[1] > -1.5 ? 1 : 0;
  }
  const width = ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
  const surface = upperEnvelope(bare, Math.max(3, Math.round(width * 0.35)));
  for (const row of rows) {
    for (let k = 0; k < columns; k++) {
      const ink = surface[k]! - row[k]!;
      row[k] = Number.isFinite(ink) ? Math.max(-0.1, Math.min(1.2, ink)) : 0;
    }
  }
  opened(valid);
  for (let k = 0; k < columns; k++) if (valid[k] === 0) redness[k] = 0;
  return { columns, fromS: ribbon.fromS + stepS / 2, stepS, rows, valid, red: redness };
}

/** Smoothed running maximum: the bare surface between prints. */
function upperEnvelope(values: Float32Array, reach: number): Float32Array {
  const n = values.length;
  const top = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    let best = Number.NEGATIVE_INFINITY;
    for (let j = Math.max(0, k - reach); j <= Math.min(n - 1, k + reach); j++) if (values[j]! > best) best = values[j]!;
    top[k] = best;
  }
  const out = new Float32Array(n);
  for (let k = 0; k < n; k++) {
    let sum = 0;
    let count = 0;
    for (let j = Math.max(0, k - reach); j <= Math.min(n - 1, k + reach); j++) {
      if (!Number.isFinite(top[j]!)) continue;
      sum += top[j]!;
      count++;
    }
    out[k] = count > 0 ? sum / count : Number.NaN;
  }
  return out;
}

/** Columns stay valid only in runs of at least three. */
function opened(valid: Uint8Array): void {
  for (let k = 0; k < valid.length; k++) {
    if (valid[k] === 0) continue;
    let end = k;
    while (end < valid.length && valid[end] === 1) end++;
    if (end - k < 3) valid.fill(0, k, end);
    k = end;
  }
}
