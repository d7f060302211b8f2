import { BINS } from './printPattern.ts';

/**
 * Whether one period of print is divided as an inch (halves, quarters, eighths) or as a centimetre (halves, tenths):
 * positive for an inch, negative for a centimetre, 0 when too little of it is resolved to tell. From the strengths of the
 * pattern's harmonics: binary parts raise every fourth, tenths the tenth, halves alone all even ones alike.
 *
 * @param columnsPerPeriod photo columns in a period, which say what can be resolved
 */
export function patternLean(mean: Float64Array, groups: number, columnsPerPeriod: number): number {
  const last = Math.min(BINS / 2 - 1, columnsPerPeriod / 2.3);
  const power = (k: number): number => {
    let sum = 0;
    for (let g = 0; g < groups; g++) {
      let re = 0;
      let im = 0;
      for (let b = 0; b < BINS; b++) {
        re += mean[g * BINS + b]! * Math.cos((2 * Math.PI * k * b) / BINS);
        im += mean[g * BINS + b]! * Math.sin((2 * Math.PI * k * b) / BINS);
      }
      sum += re * re + im * im;
    }
    return Math.log(sum + 1e-9);
  };
  const level = (ks: readonly number[]): number | null => {
    const seen = ks.filter((k) => k <= last);
    return seen.length === 0 ? null : seen.reduce((sum, k) => sum + power(k), 0) / seen.length;
  };
  let lean = 0;
  if (last >= 8) lean += (level([4, 8, 12, 16]) ?? 0) - (level([2, 6, 10, 14]) ?? 0);
  if (last >= 11) lean += ((level([8, 16]) ?? 0) - (level([10, 20]) ?? 0)) * 1.0;
  return lean;
}
