/** A calendar day as ISO 8601 writes it, YYYY-MM-DD, with no time zone: the field's own day. */
export type IsoDay = string;

const DAY_MS = 86_400_000;

/** Milliseconds at UTC midnight of a day, or null when the text is not a real calendar day (2026-02-30 is not). */
export function dayToMs(day: IsoDay): number | null {
  const parts = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day);
  if (parts === null) return null;
  const ms = Date.UTC(Number(parts[1]), Number(parts[2]) - 1, Number(parts[3]));
  return new Date(ms).toISOString().slice(0, 10) === day ? ms : null;
}

export function isDay(text: string): boolean {
  return dayToMs(text) !== null;
}

/** The day `days` later (negative: earlier). `addDays('2026-06-28', 5)` is `'2026-07-03'`. */
export function addDays(day: IsoDay, days: number): IsoDay {
  return new Date(knownMs(day) + Math.round(days) * DAY_MS).toISOString().slice(0, 10);
}

/** Whole days from one day to another; negative when `to` lies before `from`. */
export function daysBetween(from: IsoDay, to: IsoDay): number {
  return Math.round((knownMs(to) - knownMs(from)) / DAY_MS);
}

/** Day and month as people say them, in a fixed English form: `12 June`. */
export function formatDay(day: IsoDay): string {
  const ms = knownMs(day);
  const months = 'January February March April May June July August September October November December'.split(' ');
  const date = new Date(ms);
  return `${date.getUTCDate()} ${months[date.getUTCMonth()]}`;
}

function knownMs(day: IsoDay): number {
  const ms = dayToMs(day);
  if (ms === null) throw new RangeError(`found "${day}", wanted a calendar day as YYYY-MM-DD`);
  return ms;
}
