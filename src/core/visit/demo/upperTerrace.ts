import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** A metric visit late in June: cranberries are thin, but a replanting would cost more than it brings. */
export const upperTerrace: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-upper-terrace-2026-06-29',
  visitedOn: '2026-06-29',
  units: 'metric',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-upper-terrace', name: 'Upper Terrace', area: '18 ha', insured: false },
  season: 2026,
  planting: {
    id: 'planting-upper-terrace-2026',
    plantedOn: '2026-06-06',
    marketClass: 'cranberry',
    growthHabit: 'I',
    rowWidth: '75 cm',
    seedDrop: '190,000 seeds/ha',
    depth: '5 cm',
  },
  spots: twoRowSpots(
    '5 m',
    [
      [34, 38],
      [36, 32],
      [31, 39],
      [37, 35],
      [33, 36],
      [38, 34],
      [35, 31],
    ],
    { gaps: [['70 cm'], [], ['66 cm', '81 cm'], [], ['74 cm'], [], []] },
  ),
  digChecks: [{ id: 'dig-1', on: '2026-06-29', sprouting: 0, hard: 1, rotted: 22, eaten: 3, notFound: 9 }],
  impressions: [{ id: 'impression-1', at: '2026-06-29T08:15:00Z', by: 'tomas', leaning: 'keep' }],
  economics: {
    currency: '€',
    fullYield: '2,400 kg/ha',
    price: '0.95/kg',
    seed: '290/ha',
    planting: '55/ha',
    termination: '40/ha',
    drying: '30/ha',
    replantOn: '2026-07-03',
    lastReplantOn: '2026-07-10',
  },
  sprayings: [],
};
