import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** Great northerns: the flat is fine, the sandy knolls are blown out. */
export const knollQuarter: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-knoll-quarter-2026-06-12',
  visitedOn: '2026-06-12',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-knoll-quarter', name: 'Knoll Quarter', area: '150 ac', insured: true },
  season: 2026,
  planting: {
    id: 'planting-knoll-quarter-2026',
    plantedOn: '2026-05-24',
    marketClass: 'great northern',
    growthHabit: 'III',
    rowWidth: '20 in',
    seedDrop: '92,000 seeds/ac',
  },
  zones: [
    { id: 'flat', name: 'Flat', area: '112 ac' },
    { id: 'knolls', name: 'Sandy knolls', area: '27 ac' },
    { id: 'low', name: 'Low ground', area: '11 ac' },
  ],
  spots: [
    ...twoRowSpots(
      '26 ft 2 in',
      [
        [74, 78],
        [80, 71],
        [77, 82],
        [70, 75],
      ],
      { zoneId: 'flat' },
    ),
    ...twoRowSpots(
      '26 ft 2 in',
      [
        [17, 14],
        [21, 16],
        [12, 19],
        [18, 22],
      ],
      { zoneId: 'knolls', first: 5 },
    ),
    ...twoRowSpots(
      '26 ft 2 in',
      [
        [58, 63],
        [66, 60],
        [61, 69],
      ],
      { zoneId: 'low', first: 9 },
    ),
  ],
  damage: [
    {
      id: 'damage-1',
      hazard: 'sand',
      happenedOn: '2026-06-07',
      zoneId: 'knolls',
      stage: { code: 'VC', convention: 'trifoliolate' },
      plants: { growing: 31, budsAlive: 4, doubtful: 6, dead: 19 },
    },
  ],
  signs: { seen: ['one-sided abrasion', 'tattered', 'knolls', 'storm'], notSeen: ['wiry larvae'] },
  impressions: [
    { id: 'impression-1', at: '2026-06-12T11:00:00Z', by: 'tomas', leaning: 'replant', words: 'The knolls only.' },
  ],
  economics: {
    currency: '$',
    fullYield: '2,500 lb/ac',
    price: '36/cwt',
    seed: '58/ac',
    planting: '20/ac',
    termination: '12/ac',
    replantOn: '2026-06-16',
  },
};
