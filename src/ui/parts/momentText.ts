import { formatDay } from '../../core/outlook/calendar.ts';

/** A moment by this device's own clock, for a person to read: `27 November 2026, 17:04`. */
export function momentText(at: string): string {
  const moment = new Date(at);
  if (Number.isNaN(moment.getTime())) return at;
  const two = (n: number) => String(n).padStart(2, '0');
  const year = moment.getFullYear();
  const day = formatDay(`${year}-${two(moment.getMonth() + 1)}-${two(moment.getDate())}`);
  return `${day} ${year}, ${two(moment.getHours())}:${two(moment.getMinutes())}`;
}
