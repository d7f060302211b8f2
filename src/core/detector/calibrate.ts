/**
 * The chance for a score, read off a rising table of (score, chance) with straight lines between its points; the first
 * and last chance hold beyond the ends. Throws RangeError for an empty table.
 */
export function calibrate(score: number, table: readonly (readonly [number, number])[]): number {
  const first = table[0];
  if (first === undefined) throw new RangeError('the calibration table of the plant network is empty');
  let [s0, p0] = first;
  if (score <= s0) return p0;
  for (const [s1, p1] of table) {
    if (score <= s1) return s1 > s0 ? p0 + ((p1 - p0) * (score - s0)) / (s1 - s0) : p1;
    [s0, p0] = [s1, p1];
  }
  return p0;
}
