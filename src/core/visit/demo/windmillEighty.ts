import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** Where the plants of one row stand along a tape of ten feet. */
const READINGS_IN: readonly number[] = [
  1, 2.75, 5, 7.25, 9.75, 12.5, 15, 15.75, 20.25, 23.5, 26, 29.25, 34.5, 37, 39.75, 42.75, 45, 47.25, 49.5, 53, 55.5,
  58.25, 63.75, 65.75, 68.75, 71.25, 73.75, 75, 77.75, 82.25, 84.25, 85, 88.5, 89.25, 94.5, 97.25, 100.25, 102.75, 105,
  105.75, 108.5, 111.25, 113.5, 115.5, 118.75,
];

/** A good, even stand of pintos. */
export const windmillEighty: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-windmill-eighty-2026-06-16',
  visitedOn: '2026-06-16',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-windmill-eighty', name: 'Windmill Eighty', area: '80 ac', insured: true },
  season: 2026,
  planting: {
    id: 'planting-windmill-eighty-2026',
    plantedOn: '2026-05-27',
    marketClass: 'pinto',
    growthHabit: 'III',
    rowWidth: '30 in',
    rowUnits: 8,
    seedDrop: '84,000 seeds/ac',
    seedSpacing: '2.5 in',
    depth: '2 in',
  },
  spots: [
    ...twoRowSpots(
      '17 ft 5 in',
      [
        [71, 74],
        [68, 72],
        [76, 70],
        [66, 69],
        [73, 75],
        [70, 67],
      ],
      { gaps: [[], ['26 in'], [], [], [], []] },
    ),
    {
      id: 'spot-7',
      by: 'tomas',
      counts: [
        {
          id: 'spot-7-rows',
          kind: 'rows',
          length: '10 ft',
          plants: [READINGS_IN.length],
          readings: READINGS_IN.map((inches) => `${inches} in`),
        },
      ],
    },
  ],
  impressions: [
    {
      id: 'impression-1',
      at: '2026-06-16T14:05:00Z',
      by: 'marit',
      leaning: 'keep',
      words: 'Looks fine from the road.',
    },
  ],
  sprayings: [{ id: 'spray-1', at: '2026-05-24T12:00:00Z', product: 'soil herbicide', reentryHours: 24 }],
};
