import type { Source } from '../sources/source.ts';
import type { IsoDay } from './calendar.ts';
import { addDays, daysBetween } from './calendar.ts';
import type { EmergenceModel } from './cardinalModels.ts';
import { ANDEAN, HARRINGTON_MINGES, LATE_TO_MIDDLE, MESOAMERICAN, MEXICAN_HIGHLAND } from './cardinalModels.ts';
import type { DayTemperature } from './dailyProgress.ts';
import { dailyProgress } from './dailyProgress.ts';

/** Seed size of the market class, which picks the published planting-to-emergence sum. */
export type SeedSize = 'small' | 'medium' | 'large';

const QUICK_BOUND: Readonly<Record<SeedSize, EmergenceModel>> = {
  small: MESOAMERICAN,
  medium: MEXICAN_HIGHLAND,
  large: ANDEAN,
};

/** Share of the plants that will come which are up by a day, quick and slow published account. */
export interface EmergedShare {
  readonly day: IsoDay;
  readonly quick: number;
  readonly slow: number;
}

export interface EmergenceForecast {
  readonly shares: readonly EmergedShare[];
  readonly onVisit: EmergedShare;
  /** First day on which even the slow account has nine in ten up; null beyond the horizon. */
  readonly nineTenthsBy: IsoDay | null;
  readonly medium: 'soil' | 'air' | 'both';
  /** Days since planting with no temperature, filled with the mean of the others. */
  readonly filledDays: number;
  readonly models: readonly EmergenceModel[];
  readonly sources: readonly Source[];
}

const HORIZON_DAYS = 45;
const RECENT_DAYS = 7;

/**
 * How far emergence should be, day by day, from temperatures. Two published accounts bound it, each with its own base
 * and sum: the quick one (crop model, a lower bound of time) and the slow one (Harrington and Minges table). Around
 * its middle emergence follows a log-logistic curve whose late half is as long as the published soybean one.
 * Days after the last reading are taken to be like the last week's. Null without a single usable temperature.
 */
export function emergenceForecast(
  plantedOn: IsoDay,
  visitOn: IsoDay,
  temperatures: readonly DayTemperature[],
  seed: SeedSize,
): EmergenceForecast | null {
  const usable = temperatures.filter((t) => t.day >= plantedOn);
  if (usable.length === 0) return null;
  const byDay = new Map(usable.map((t) => [t.day, t]));
  const recent = [...usable].sort((a, b) => (a.day < b.day ? -1 : 1)).slice(-RECENT_DAYS);
  const typical = { minC: mean(recent.map((t) => t.minC)), maxC: mean(recent.map((t) => t.maxC)) };
  const [quick, slow] = [QUICK_BOUND[seed], HARRINGTON_MINGES];
  const shares: EmergedShare[] = [];
  let [quickSum, slowSum, filledDays] = [0, 0, 0];
  const toVisit = daysBetween(plantedOn, visitOn);
  for (let ahead = 0; ahead <= toVisit + HORIZON_DAYS; ahead++) {
    const day = addDays(plantedOn, ahead);
    const reading = byDay.get(day) ?? typical;
    if (ahead <= toVisit && !byDay.has(day)) filledDays++;
    quickSum += dailyProgress(reading, quick);
    slowSum += dailyProgress(reading, slow);
    shares.push({
      day,
      quick: upAt(quickSum, LATE_TO_MIDDLE.low),
      slow: upAt(slowSum, LATE_TO_MIDDLE.high),
    });
  }
  const media = new Set(usable.map((t) => t.medium));
  return {
    shares,
    onVisit: shares[toVisit]!,
    nineTenthsBy: shares.find((s) => s.slow >= 0.9)?.day ?? null,
    medium: media.size === 2 ? 'both' : [...media][0]!,
    filledDays,
    models: [quick, slow],
    sources: [quick.source, slow.source, LATE_TO_MIDDLE.source],
  };
}

/** Log-logistic share at a thermal time in units of its own middle; `late` is time to 90 % over time to 50 %. */
function upAt(progress: number, late: number): number {
  if (progress <= 0) return 0;
  const shape = Math.log(9) / Math.log(late);
  return 1 / (1 + progress ** -shape);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
