import type { SignId } from '../../core/diagnosis/signs.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { type Edit, onVisit, put } from './visitEdits.ts';

export type Zone = NonNullable<VisitDocument['zones']>[number];
export type Weather = NonNullable<VisitDocument['weather']>;
export type WeatherDay = Weather['days'][number];

export const putZone = (zone: Zone): Edit => onVisit((visit) => ({ ...visit, zones: put(visit.zones ?? [], zone) }));

/** Takes a zone away; what lay in it lies in no zone again. The last one gone, the field is one again. */
export const removeZone = (id: string): Edit =>
  onVisit((visit) => {
    const free = <T extends { zoneId?: string | undefined }>(one: T): T => {
      if (one.zoneId !== id) return one;
      const { zoneId: _gone, ...rest } = one;
      return rest as T;
    };
    const { zones, ...rest } = visit;
    const left = (zones ?? []).filter((zone) => zone.id !== id);
    return {
      ...rest,
      ...(left.length === 0 ? {} : { zones: left }),
      spots: visit.spots.map(free),
      ...(visit.damage === undefined ? {} : { damage: visit.damage.map(free) }),
      ...(visit.digChecks === undefined ? {} : { digChecks: visit.digChecks.map(free) }),
    };
  });

/** Says in which zone a spot lies; null: in none. */
export const setSpotZone = (spotId: string, zoneId: string | null): Edit =>
  onVisit((visit) => ({
    ...visit,
    spots: visit.spots.map((spot) => {
      if (spot.id !== spotId) return spot;
      const { zoneId: _old, ...rest } = spot;
      return zoneId === null ? rest : { ...rest, zoneId };
    }),
  }));

export const setSpotNote = (spotId: string, note: string): Edit =>
  onVisit((visit) => ({
    ...visit,
    spots: visit.spots.map((spot) => {
      if (spot.id !== spotId) return spot;
      const { note: _old, ...rest } = spot;
      return note.trim() === '' ? rest : { ...rest, note };
    }),
  }));

/** A sign seen (true), looked for and not there (false), or not looked for (null). */
export const setSign = (sign: SignId, isThere: boolean | null): Edit =>
  onVisit((visit) => {
    const but = (list: readonly string[] | undefined) => (list ?? []).filter((one) => one !== sign);
    const [seen, notSeen] = [but(visit.signs?.seen), but(visit.signs?.notSeen)];
    if (isThere === true) seen.push(sign);
    if (isThere === false) notSeen.push(sign);
    const { signs: _old, ...rest } = visit;
    return seen.length + notSeen.length === 0 ? rest : { ...rest, signs: { seen, notSeen } };
  });

/** Adds days of weather, oldest first; a day that is there already, of soil or of air, is put in place of it. */
export const addWeatherDays = (days: readonly WeatherDay[]): Edit =>
  onVisit((visit) => {
    const key = (day: WeatherDay) => `${day.on} ${day.medium}`;
    const all = new Map([...(visit.weather?.days ?? []), ...days].map((day) => [key(day), day]));
    const sorted = [...all].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, day]) => day);
    return { ...visit, weather: { ...visit.weather, days: sorted } };
  });

export const removeWeatherDay = (gone: Pick<WeatherDay, 'on' | 'medium'>): Edit =>
  onVisit((visit) => {
    const days = (visit.weather?.days ?? []).filter((day) => day.on !== gone.on || day.medium !== gone.medium);
    return { ...visit, weather: { ...visit.weather, days } };
  });

/** Crust and rain to come; undefined takes what was said back. */
export const setSky = (
  change: Pick<Weather, 'crust' | 'rainExpected'> | { [K in 'crust' | 'rainExpected']?: undefined },
): Edit =>
  onVisit((visit) => {
    const { days = [], ...sky } = visit.weather ?? {};
    const said = Object.entries({ ...sky, ...change }).filter(([, value]) => value !== undefined);
    return { ...visit, weather: { days, ...Object.fromEntries(said) } };
  });
