/** A day's extremes and the thresholds of one growing-degree convention, all in the same degree (C or F). */
export interface DegreeDay {
  readonly max: number;
  readonly min: number;
  readonly base: number;
  readonly cap: number;
}

/**
 * Growing degrees of one day, each extreme held between base and cap before the mean is taken (method 2 of McMaster
 * and Wilhelm 1997, Agric. For. Meteorol. 87:291-300). The convention of the 50/86 F soybean sums.
 * Example: 80/44 F over 50, capped at 86, is 15 degree-days; the plain mean (method 1) would say 12, so sums of the two
 * conventions never compare.
 */
export function growingDegreesClampedEach(day: DegreeDay): number {
  const held = (t: number) => Math.min(Math.max(t, day.base), day.cap);
  return (held(day.max) + held(day.min)) / 2 - day.base;
}
