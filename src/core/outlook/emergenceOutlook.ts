import type { Source } from '../sources/source.ts';
import { own, publishedWith } from '../sources/source.ts';
import type { IsoDay } from './calendar.ts';
import { addDays, daysBetween } from './calendar.ts';
import { SOYBEAN_GDD_F } from './cardinalModels.ts';
import type { DayTemperature } from './dailyProgress.ts';
import type { Crust, DigCheck, StillToCome } from './digCheck.ts';
import { stillToCome } from './digCheck.ts';
import type { EmergenceForecast, SeedSize } from './emergedShare.ts';
import { emergenceForecast } from './emergedShare.ts';
import type { EmergenceCurve } from './emergenceCurve.ts';
import { bestEmergenceCurve, dayOfShare } from './emergenceCurve.ts';
import type { EmergenceMoments } from './emergenceMoments.ts';
import { emergenceMoments } from './emergenceMoments.ts';
import { growingDegreesClampedEach } from './growingDegreeDays.ts';

export interface OutlookInput {
  readonly plantedOn: IsoDay;
  readonly visitOn: IsoDay;
  readonly seed: SeedSize;
  readonly temperatures: readonly DayTemperature[];
  /** Null when nobody knows what was dropped. */
  readonly seedDropPerM2: number | null;
  readonly standPerM2: number;
  /** Earlier counts of the same field, without the visit's own. */
  readonly earlier: readonly { readonly day: IsoDay; readonly perM2: number }[];
  readonly dig: DigCheck | null;
  readonly crust: Crust | null;
  readonly rainExpected: boolean | null;
}

export interface Range {
  readonly middle: number;
  readonly low: number;
  readonly high: number;
}

export interface EmergenceOutlook {
  /** Enough is still to come to be worth a recount. */
  readonly stillComing: boolean;
  readonly toComePerM2: Range;
  readonly finalPerM2: Range;
  readonly recountBy: IsoDay;
  readonly basis: 'dig check' | 'emergence curve' | 'temperatures' | 'days since planting';
  readonly dig: StillToCome | null;
  readonly curve: EmergenceCurve | null;
  readonly forecast: EmergenceForecast | null;
  /** Mean time and t50 of the dated counts, where they rise and are three or more. */
  readonly moments: EmergenceMoments | null;
  /** Growing degrees F since planting in the soybean convention, a cross-check only; null without temperatures. */
  readonly soybeanDegreesF: number | null;
  /** Temperatures were typed in, or this range was assumed. */
  readonly temperaturesAssumed: boolean;
  readonly flags: readonly string[];
  readonly source: Source;
}

/** More than this share of seeds hardly ever stands: the best of five plantings made 97.6 %. */
const MOST_ESTABLISHED = {
  share: 0.976,
  source: publishedWith('best of five plantings', 'msuPopulation2019'),
} as const;
/** Without readings the soil is taken to be just fit for planting, up to pleasant. */
const ASSUMED_C = { minC: 15, maxC: 20 } as const;
const WORTH_A_RECOUNT = 0.05;
const RECOUNT = {
  soonestDays: 3,
  usualDays: 5,
  latestDays: 10,
  source: own('sooner shows little, later costs planting time'),
} as const;

/**
 * What is still to come, and when to count again. The dig check leads because it looks at the seeds; then an emergence
 * curve through four or more dated counts; then published timing at the temperatures, typed or assumed.
 */
export function emergenceOutlook(input: OutlookInput): EmergenceOutlook {
  const temperaturesAssumed = !input.temperatures.some((t) => t.day >= input.plantedOn);
  const temperatures = temperaturesAssumed
    ? [{ day: input.plantedOn, ...ASSUMED_C, medium: 'soil' as const }]
    : input.temperatures;
  const forecast = emergenceForecast(input.plantedOn, input.visitOn, temperatures, input.seed);
  const mostFinal =
    input.seedDropPerM2 === null ? null : Math.max(input.standPerM2, input.seedDropPerM2 * MOST_ESTABLISHED.share);
  const missing = mostFinal === null ? null : mostFinal - input.standPerM2;

  const dig = input.dig === null ? null : stillToCome(input.dig, input.crust, input.rainExpected);
  const totals = [...input.earlier, { day: input.visitOn, perM2: input.standPerM2 }].map((count) => ({
    x: daysBetween(input.plantedOn, count.day),
    y: count.perM2,
  }));
  const fitted = totals.length >= 2 ? bestEmergenceCurve(totals, mostFinal) : null;
  const curve = fitted?.ok === true ? fitted.value : null;

  const { toCome, basis, source } = choose(input, dig, curve, forecast, missing, temperaturesAssumed);
  const finalPerM2 = {
    middle: input.standPerM2 + toCome.middle,
    low: input.standPerM2 + toCome.low,
    high: input.standPerM2 + toCome.high,
  };
  return {
    stillComing: toCome.middle > WORTH_A_RECOUNT * finalPerM2.middle,
    toComePerM2: toCome,
    finalPerM2,
    recountBy: recountDay(input, curve, forecast),
    basis,
    dig,
    curve,
    forecast,
    moments: momentsOf(totals),
    soybeanDegreesF: temperaturesAssumed ? null : soybeanDegrees(input),
    temperaturesAssumed,
    flags: flagsOf(input, temperaturesAssumed, forecast),
    source,
  };
}

interface Chosen {
  readonly toCome: Range;
  readonly basis: EmergenceOutlook['basis'];
  readonly source: Source;
}

function choose(
  input: OutlookInput,
  dig: StillToCome | null,
  curve: EmergenceCurve | null,
  forecast: EmergenceForecast | null,
  missing: number | null,
  assumed: boolean,
): Chosen {
  if (dig !== null && missing !== null) {
    const toCome = { middle: missing * dig.middle, low: missing * dig.low, high: missing * dig.high };
    return { toCome, basis: 'dig check', source: dig.source };
  }
  if (curve !== null && !curve.finalGiven && curve.finalSe !== null) {
    const most = missing ?? Number.POSITIVE_INFINITY;
    const held = (value: number) => Math.min(most, Math.max(0, value - input.standPerM2));
    const toCome = {
      middle: held(curve.final),
      low: held(curve.final - 2 * curve.finalSe),
      high: held(curve.final + 2 * curve.finalSe),
    };
    return { toCome, basis: 'emergence curve', source: own('two standard errors of the fitted end') };
  }
  const basis = assumed ? 'days since planting' : 'temperatures';
  if (forecast === null) return { toCome: { middle: 0, low: 0, high: 0 }, basis, source: RECOUNT.source };
  const { quick, slow } = forecast.onVisit;
  const byShare = (share: number) => {
    const more = share > 0 ? input.standPerM2 * (1 / share - 1) : Number.POSITIVE_INFINITY;
    return Math.min(more, missing ?? input.standPerM2 * 9);
  };
  // With nothing up, a ratio to what is up says nothing: all that is missing may come, as far as time allows.
  const fromNothing = input.standPerM2 === 0;
  const least = fromNothing ? 0 : byShare(quick);
  const most = fromNothing ? (missing ?? 0) * (1 - slow) : byShare(slow);
  return { toCome: { middle: (least + most) / 2, low: least, high: most }, basis, source: forecast.sources[1]! };
}

/** Running totals to daily news; null where they fall or are too few. */
function momentsOf(totals: readonly { readonly x: number; readonly y: number }[]): EmergenceMoments | null {
  const sorted = [...totals].sort((a, b) => a.x - b.x);
  const news = sorted.map((point, i) => ({ day: point.x, newPlants: point.y - (i === 0 ? 0 : sorted[i - 1]!.y) }));
  return news.length < 3 || news.some((entry) => entry.newPlants < 0) ? null : emergenceMoments(news);
}

function soybeanDegrees(input: OutlookInput): number {
  const fahrenheit = (c: number) => c * 1.8 + 32;
  return input.temperatures
    .filter((t) => t.day >= input.plantedOn && t.day <= input.visitOn)
    .reduce((sum, t) => {
      const day = {
        max: fahrenheit(t.maxC),
        min: fahrenheit(t.minC),
        base: SOYBEAN_GDD_F.baseF,
        cap: SOYBEAN_GDD_F.capF,
      };
      return sum + growingDegreesClampedEach(day);
    }, 0);
}

function recountDay(input: OutlookInput, curve: EmergenceCurve | null, forecast: EmergenceForecast | null): IsoDay {
  const soonest = addDays(input.visitOn, RECOUNT.soonestDays);
  const latest = addDays(input.visitOn, RECOUNT.latestDays);
  // A curve through counts that hardly rise can put nine tenths beyond any calendar.
  const ninetyDays = curve === null ? null : dayOfShare(curve, 0.9);
  if (ninetyDays !== null && ninetyDays > daysBetween(input.plantedOn, latest)) return latest;
  const byCurve = ninetyDays === null ? null : addDays(input.plantedOn, Math.ceil(ninetyDays));
  const wanted = byCurve ?? forecast?.nineTenthsBy ?? addDays(input.visitOn, RECOUNT.usualDays);
  if (wanted <= soonest) return soonest;
  if (wanted >= latest) return latest;
  return wanted;
}

function flagsOf(input: OutlookInput, assumed: boolean, forecast: EmergenceForecast | null): readonly string[] {
  return [
    ...(assumed
      ? [`no temperatures were entered: ${ASSUMED_C.minC} to ${ASSUMED_C.maxC} C in the soil is assumed`]
      : []),
    ...(forecast !== null && !assumed && forecast.filledDays > 0
      ? [`${forecast.filledDays} of the days had no temperature and were filled`]
      : []),
    ...(forecast?.medium === 'air' ? ['air temperatures: soil at seed depth lags and swings less'] : []),
    ...(input.crust === 'hard' ? ['hard crust: hooks snap; break it at midday, not in the hook'] : []),
    ...(input.crust === 'soft' ? ['soft crust: look again after rain or drying'] : []),
    ...(input.seedDropPerM2 === null ? ['no seed drop was entered, so the missing plants are not known'] : []),
  ];
}
