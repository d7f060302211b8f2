import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** Kidneys ruined by maggots early enough to start again. */
export const riverEighty: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-river-eighty-2026-06-08',
  visitedOn: '2026-06-08',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-river-eighty', name: 'River Eighty', area: '78 ac', insured: true },
  season: 2026,
  planting: {
    id: 'planting-river-eighty-2026',
    plantedOn: '2026-05-18',
    marketClass: 'kidney',
    growthHabit: 'I',
    rowWidth: '30 in',
    seedDrop: '78,000 seeds/ac',
    depth: '2 in',
  },
  spots: twoRowSpots(
    '17 ft 5 in',
    [
      [16, 21],
      [23, 18],
      [14, 19],
      [20, 17],
      [22, 25],
      [15, 18],
    ],
    {
      gaps: [
        ['31 in', '44 in', '28 in'],
        ['33 in', '27 in'],
        ['52 in', '38 in', '29 in'],
        ['36 in', '41 in'],
        ['27 in'],
        ['48 in', '30 in', '35 in'],
      ],
    },
  ),
  digChecks: [{ id: 'dig-1', on: '2026-06-08', sprouting: 1, hard: 0, rotted: 17, eaten: 20, notFound: 4 }],
  signs: {
    seen: ['white maggots', 'snakeheads', 'random pattern', 'green manure', 'cool wet'],
    notSeen: ['wiry larvae', 'slime', 'cut at ground'],
  },
  scouting: { cutworm: { larvae: 1, rowLength: '10 ft', plantsCut: '3 %' } },
  impressions: [
    { id: 'impression-1', at: '2026-06-08T15:10:00Z', by: 'marit', leaning: 'wait', words: 'Maybe more will come.' },
  ],
  economics: {
    currency: '$',
    fullYield: '2,200 lb/ac',
    price: '42/cwt',
    seed: '105/ac',
    planting: '22/ac',
    termination: '14/ac',
    extraInputs: '12/ac',
    drying: '8/ac',
    credit: '30/ac',
    replantOn: '2026-06-13',
    insuredUntil: '2026-06-10',
  },
  sprayings: [{ id: 'spray-1', at: '2026-05-16T12:00:00Z', product: 'soil herbicide', reentryHours: 12 }],
};
