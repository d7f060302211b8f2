import type { RowFit, RowMark } from './findRowLine.ts';

/** Half width of the band that a row's stems stand in, millimetres. */
const HALF_BAND_MM = 60;
const FEWEST = 3;
const FEWEST_PER_M = 1.5;

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
  let on = 0;
  for (const { atMm } of marks) {
    if (Math.abs(atMm[1] - row.acrossAtZeroMm - row.slope * atMm[0]) <= HALF_BAND_MM) on++;
  }
  const off = marks.length - on;
  if (on < FEWEST && on < (FEWEST_PER_M * lengthMm) / 1000) return false;
  if (off <= on / 2) return on > 0;
  const outside = Math.max(2 * HALF_BAND_MM, widthMm - 2 * HALF_BAND_MM);
  const expected = (off * 2 * HALF_BAND_MM) / outside;
  return on - expected > 2.5 * Math.sqrt(expected + 1);
}
