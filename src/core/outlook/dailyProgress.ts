import type { IsoDay } from './calendar.ts';
import type { CardinalTemperatures, EmergenceModel } from './cardinalModels.ts';

/** One day's temperatures in degrees Celsius, and where they were taken. */
export interface DayTemperature {
  readonly day: IsoDay;
  readonly minC: number;
  readonly maxC: number;
  readonly medium: 'soil' | 'air';
}

/** Rate of development at one temperature, 0 to 1: a trapezoid over the cardinal temperatures. */
export function developmentRate(celsius: number, t: CardinalTemperatures): number {
  if (celsius <= t.baseC || celsius >= t.ceilingC) return 0;
  if (celsius < t.optimumLowC) return (celsius - t.baseC) / (t.optimumLowC - t.baseC);
  if (celsius <= t.optimumHighC) return 1;
  return (t.ceilingC - celsius) / (t.ceilingC - t.optimumHighC);
}

const STEPS_PER_DAY = 24;

/**
 * Share of a model's own thermal sum that one day adds: hourly along a sine between the day's minimum and maximum,
 * so that a day across the base or the ceiling is not misjudged by its mean. At a constant temperature it is exact.
 */
export function dailyProgress(day: Pick<DayTemperature, 'minC' | 'maxC'>, model: EmergenceModel): number {
  const t = model.temperatures;
  const mean = (day.minC + day.maxC) / 2;
  const swing = (day.maxC - day.minC) / 2;
  let rate = 0;
  for (let hour = 0; hour < STEPS_PER_DAY; hour++) {
    const phase = (2 * Math.PI * (hour + 0.5)) / STEPS_PER_DAY;
    rate += developmentRate(mean + swing * Math.sin(phase), t);
  }
  return ((rate / STEPS_PER_DAY) * (t.optimumLowC - t.baseC)) / model.thermalSumCd;
}

/** Days to reach the model's sum at one constant temperature; null where it never does. */
export function daysToEmergence(celsius: number, model: EmergenceModel): number | null {
  const perDay = dailyProgress({ minC: celsius, maxC: celsius }, model);
  return perDay > 0 ? 1 / perDay : null;
}
