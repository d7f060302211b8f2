import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { plural } from '../parts/plural.ts';

/** One thing that can be noted beside the counts; `says` is what stands there now, empty for nothing. */
export interface NotePart {
  readonly id: string;
  readonly label: string;
  readonly says: (visit: VisitDocument) => string;
}

const many = (list: readonly unknown[] | undefined, one: string) =>
  list === undefined || list.length === 0 ? '' : plural(list.length, one);

export const NOTE_PARTS: readonly NotePart[] = [
  { id: 'damage', label: 'Damage', says: ({ damage }) => (damage ?? []).map((one) => one.hazard).join(', ') },
  { id: 'dig', label: 'Dug up', says: ({ digChecks }) => many(digChecks, 'dig') },
  { id: 'signs', label: 'Signs', says: ({ signs }) => (signs === undefined ? '' : `${signs.seen.length} seen`) },
  {
    id: 'weather',
    label: 'Weather',
    says: ({ weather }) =>
      [many(weather?.days, 'day'), weather?.crust === undefined ? '' : `crust ${weather.crust}`]
        .filter((text) => text !== '')
        .join(', '),
  },
  { id: 'zones', label: 'Zones', says: ({ zones }) => many(zones, 'zone') },
  {
    id: 'scouting',
    label: 'Pests, hoe, salt',
    says: ({ scouting }) => many(Object.keys(scouting ?? {}), 'note'),
  },
  { id: 'earlier', label: 'Earlier counts', says: ({ earlierCounts }) => many(earlierCounts, 'count') },
  {
    id: 'spraying',
    label: 'Spraying',
    says: ({ sprayings }) => (sprayings?.length === 0 ? 'not sprayed' : many(sprayings, 'spraying')),
  },
  {
    id: 'people',
    label: 'People',
    says: ({ people }) => people.map(({ name, role }) => (role === undefined ? name : `${name}, ${role}`)).join('; '),
  },
  { id: 'costs', label: 'Costs', says: ({ economics }) => economics?.price ?? '' },
  {
    id: 'planting',
    label: 'Field and planting',
    says: ({ planting }) => [planting.marketClass, planting.rowWidth ?? 'no row width'].join(', '),
  },
];
