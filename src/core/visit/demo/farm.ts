import { addDays } from '../../outlook/calendar.ts';
import type { VisitDocument } from '../visitSchema.ts';

/** An invented farm with invented people, for demonstration: no such place, nobody's data. */
export const DEMO_FARM = { id: 'farm-alder-flat', name: 'Alder Flat Farm', region: 'northern plains' } as const;

export const DEMO_PEOPLE: VisitDocument['people'] = [
  { id: 'marit', name: 'Marit Solheim', role: 'grower' },
  { id: 'tomas', name: 'Tomas Reyes', role: 'agronomist' },
];

type Spots = VisitDocument['spots'];

/** Spots of two adjacent rows each, numbered, in one zone or none. */
export function twoRowSpots(
  length: string,
  plants: readonly (readonly number[])[],
  options: { readonly first?: number; readonly zoneId?: string; readonly gaps?: readonly (readonly string[])[] } = {},
): Spots {
  return plants.map((pair, i) => {
    const name = `spot-${(options.first ?? 1) + i}`;
    const gaps = options.gaps?.[i];
    return {
      id: name,
      by: 'tomas',
      ...(options.zoneId === undefined ? {} : { zoneId: options.zoneId }),
      counts: [
        {
          id: `${name}-rows`,
          kind: 'rows',
          length,
          plants: [...pair],
          ...(gaps === undefined ? {} : { gaps: [...gaps] }),
        },
      ],
    };
  });
}

/** Soil temperatures, day after day from a first day. */
export function soilDays(first: string, pairs: readonly (readonly [number, number])[], unit: 'F' | 'C') {
  return pairs.map(([low, high], i) => ({
    on: addDays(first, i),
    minimum: `${low} ${unit}`,
    maximum: `${high} ${unit}`,
    medium: 'soil' as const,
  }));
}
