import type { RowFit, RowMark } from './findRowLine.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Half width of the band that a row's stems stand in, millimetres. */
const HALF_BAND_MM = 60;
const FEWEST = 3;
const FEWEST_PER_M = 1.5;
/** Fewer marks than this must stand as near to the line as stems do: a line through three scattered marks misses them by more. */
const FEW = 6;
const TIGHT_MM = 28;

/**
 * Whether marks stand on a line, more than the best line through scattered marks would hold: those in the band must
 * exceed what the density outside it predicts by two and a half standard deviations of a Poisson number, or there must
 * be next to nothing outside.
 *
 * Two marks make no row: there must be three, or more than one and a half a metre.
 *
 * @param lengthMm @param widthMm the ground that was searched, along the row and across it.
 */
export function rowEvidence(marks: readonly RowMark[], row: RowFit, lengthMm: number, widthMm: number): boolean {
  const usual = weightedMedian(marks.map((m) => [m.weight, m.weight]));
  let n = 0;
  let on = 0;
  let off = 0;
  for (const { atMm, weight } of marks) {
    const share = Math.min(1, weight / usual);
    if (Math.abs(atMm[1] - row.acrossAtZeroMm - row.slope * atMm[0]) > HALF_BAND_MM) off += share;
    else {
      on += share;
      n++;
    }
  }
  if (n < FEWEST && n < (FEWEST_PER_M * lengthMm) / 1000) return false;
  if (n < FEW && row.sdMm > TIGHT_MM) return false;
  if (off <= on / 2) return on > 0;
  const outside = Math.max(2 * HALF_BAND_MM, widthMm - 2 * HALF_BAND_MM);
  const expected = (off * 2 * HALF_BAND_MM) / outside;
  return on - expected > 2.5 * Math.sqrt(expected + 1);
}
