import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, soilDays, twoRowSpots } from './farm.ts';

/** Navies in cool soil under a soft crust: half are up, and the dig check finds many more on the way. */
export const lowerBench: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-lower-bench-2026-06-10',
  visitedOn: '2026-06-10',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-lower-bench', name: 'Lower Bench', area: '62 ac', insured: true },
  season: 2026,
  planting: {
    id: 'planting-lower-bench-2026',
    plantedOn: '2026-05-26',
    marketClass: 'navy',
    growthHabit: 'II',
    rowWidth: '15 in',
    seedDrop: '155,000 seeds/ac',
    depth: '1.75 in',
  },
  spots: twoRowSpots('17 ft 5 in', [
    [36, 33],
    [31, 35],
    [38, 30],
    [29, 34],
    [35, 37],
    [33, 30],
  ]),
  earlierCounts: [{ id: 'earlier-1', on: '2026-06-06', population: '31,000 plants/ac' }],
  digChecks: [{ id: 'dig-1', on: '2026-06-10', sprouting: 24, hard: 8, rotted: 4, eaten: 1, notFound: 3 }],
  weather: {
    days: soilDays(
      '2026-05-26',
      [
        [50, 61],
        [51, 62],
        [49, 58],
        [48, 57],
        [50, 60],
        [52, 63],
        [54, 66],
        [55, 67],
        [55, 68],
        [56, 69],
        [57, 70],
        [56, 68],
        [57, 71],
        [58, 72],
        [59, 72],
      ],
      'F',
    ),
    crust: 'soft',
    rainExpected: true,
  },
  signs: { seen: ['thick hypocotyl', 'hooks under plate', 'pounding rain'], notSeen: ['white maggots', 'soft rot'] },
  impressions: [
    {
      id: 'impression-1',
      at: '2026-06-10T13:20:00Z',
      by: 'marit',
      leaning: 'replant',
      words: 'Half of it is missing.',
    },
  ],
  sprayings: [],
};
