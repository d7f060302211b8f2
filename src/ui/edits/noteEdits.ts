import type { PlantSigns } from '../../core/damage/growingPoint.ts';
import type { SignId } from '../../core/diagnosis/signs.ts';
import type { VisitDamage, VisitDocument } from '../../core/visit/visitSchema.ts';
import { type Edit, onVisit, personId, put } from './visitEdits.ts';

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

/** Says what a person of the visit does, such as `grower`; empty takes it back. */
export const setRole = (person: string, role: string): Edit =>
  onVisit((visit) => ({
    ...visit,
    people: visit.people.map((one) => {
      if (one.id !== person) return one;
      const { role: _old, ...rest } = one;
      return role.trim() === '' ? rest : { ...rest, role: role.trim() };
    }),
  }));

/**
 * Notes one plant more (or one less) on which this was seen. Each person has a number of their own for each finding, so
 * that two people who walk at the same time add up.
 */
export const addSeen = (damageId: string, finding: string, signs: PlantSigns, by: string, plants: 1 | -1): Edit =>
  onVisit((visit) => ({
    ...visit,
    damage: (visit.damage ?? []).map((damage) => {
      if (damage.id !== damageId) return damage;
      const id = seenId(finding, by);
      const { seen: before = [], ...rest } = damage;
      const number = Math.max(0, (before.find((one) => one.id === id)?.number ?? 0) + plants);
      const seen = put(before, { id, number, ...signs }).filter((one) => one.number > 0);
      return seen.length === 0 ? rest : { ...rest, seen };
    }),
  }));

const seenId = (finding: string, by: string) => `${finding}-${personId(by)}`;

/** Plants that one person noted for a finding. */
export function seenBy({ seen = [] }: Pick<VisitDamage, 'seen'>, finding: { readonly id: string }, by: string): number {
  return seen.find((one) => one.id === seenId(finding.id, by))?.number ?? 0;
}

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
