import type { IsoDay } from '../outlook/calendar.ts';
import { daysBetween } from '../outlook/calendar.ts';
import type { Source } from '../sources/source.ts';
import { ENTERED, own, published, publishedWith } from '../sources/source.ts';
import type { Band } from './band.ts';

/** Share of the best date's yield by planting day (month and day), straight between rows. */
export interface DateTable {
  readonly crop: string;
  readonly rows: readonly { readonly monthDay: string; readonly yieldShare: number }[];
  readonly source: Source;
}

/** Soybean planting dates, Penn State. */
export const PENN_STATE_SOYBEAN: DateTable = {
  crop: 'soybean',
  rows: [
    { monthDay: '05-10', yieldShare: 1 },
    { monthDay: '05-20', yieldShare: 0.98 },
    { monthDay: '05-30', yieldShare: 0.95 },
    { monthDay: '06-10', yieldShare: 0.88 },
    { monthDay: '06-20', yieldShare: 0.76 },
  ],
  source: published('pennStateReplant'),
};

/** Soybean planting dates, Minnesota. */
export const MINNESOTA_SOYBEAN: DateTable = {
  crop: 'soybean',
  rows: [
    { monthDay: '05-10', yieldShare: 1 },
    { monthDay: '05-20', yieldShare: 0.97 },
    { monthDay: '05-30', yieldShare: 0.91 },
    { monthDay: '06-10', yieldShare: 0.82 },
    { monthDay: '06-20', yieldShare: 0.7 },
  ],
  source: published('minnesotaSoybean'),
};

/** A table read at a day, straight between its rows; null outside it, never carried on. */
export function readDateTable(table: DateTable, day: IsoDay): number | null {
  const year = day.slice(0, 4);
  const rows = table.rows;
  for (let i = 1; i < rows.length; i++) {
    const left = `${year}-${rows[i - 1]!.monthDay}`;
    const right = `${year}-${rows[i]!.monthDay}`;
    if (day < left || day > right) continue;
    const t = daysBetween(left, day) / daysBetween(left, right);
    return rows[i - 1]!.yieldShare + t * (rows[i]!.yieldShare - rows[i - 1]!.yieldShare);
  }
  return null;
}

/**
 * Dry beans in six North Dakota trials 2012-15: 19.6, 19.0 and 19.1 cwt/ac planted 11-24 May, 22 May-5 June and
 * 5-18 June, no significant loss.
 */
export const DRY_BEAN_DATES = {
  lastTestedMonthDay: '06-18',
  yieldsCwtPerAcre: { early: 19.6, normal: 19.0, late: 19.1 },
  source: published('ndsuPlantingDates2016'),
} as const;

/** After mid-June no dry-bean number was read; soybean tables fall 1.2 % of yield a day from 10 to 20 June. */
export const AFTER_MID_JUNE = {
  lossPerDay: { low: 0.008, high: 0.02 },
  source: publishedWith(
    'soybean: 0.5 bu/ac/day of 60, and 1.2 % a day; 2 % is our margin, dry beans are unknown',
    'virginiaStand',
    'pennStateReplant',
  ),
} as const;

/** What the farm's own area says about late planting, where somebody typed it in. */
export interface LocalDateRule {
  readonly noLossUntil: IsoDay;
  readonly lossPerDay: number;
}

export interface DateFactor {
  readonly factor: Band;
  readonly says: string;
  readonly source: Source;
}

/** Yield of beans planted on a day against beans planted in good time, as a band; the local rule wins when given. */
export function dateFactor(plantingDay: IsoDay, local: LocalDateRule | null): DateFactor {
  if (local !== null) {
    const late = Math.max(0, daysBetween(local.noLossUntil, plantingDay));
    const share = Math.max(0, 1 - local.lossPerDay * late);
    return { factor: { low: share, high: share }, says: `${late} days after the local no-loss date`, source: ENTERED };
  }
  const lastTested = `${plantingDay.slice(0, 4)}-${DRY_BEAN_DATES.lastTestedMonthDay}`;
  const { early, normal } = DRY_BEAN_DATES.yieldsCwtPerAcre;
  const late = daysBetween(lastTested, plantingDay);
  const testedLow = normal / early;
  if (late <= 0) {
    return {
      factor: { low: testedLow, high: 1 },
      says: 'up to 18 June no real loss was found',
      source: DRY_BEAN_DATES.source,
    };
  }
  return {
    factor: {
      low: Math.max(0, testedLow - AFTER_MID_JUNE.lossPerDay.high * late),
      high: Math.max(0, 1 - AFTER_MID_JUNE.lossPerDay.low * late),
    },
    says: `${late} days after the last tested date; dry-bean loss is not published`,
    source: AFTER_MID_JUNE.source,
  };
}

/** Where nobody entered a last day, replanting is not costed after this one. */
export const LAST_REPLANT_DEFAULT = {
  monthDay: '07-05',
  source: own('beans planted later seldom ripen before frost in the northern bean states; enter the local date'),
} as const;

/** The last day on which a replanting is even costed: the local entry, or our cautious default for that year. */
export function lastReplantDay(year: string, local: IsoDay | null): { readonly day: IsoDay; readonly source: Source } {
  if (local !== null) return { day: local, source: ENTERED };
  return { day: `${year}-${LAST_REPLANT_DEFAULT.monthDay}`, source: LAST_REPLANT_DEFAULT.source };
}
