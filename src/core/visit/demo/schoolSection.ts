import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** Blacks with three spots that tell three stories. */
export const schoolSection: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-school-section-2026-06-17',
  visitedOn: '2026-06-17',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-school-section', name: 'School Section', area: '140 ac' },
  season: 2026,
  planting: {
    id: 'planting-school-section-2026',
    plantedOn: '2026-05-29',
    marketClass: 'black',
    growthHabit: 'II',
    rowWidth: '30 in',
    seedDrop: '110,000 seeds/ac',
  },
  spots: twoRowSpots('17 ft 5 in', [
    [44, 49],
    [86, 91],
    [63, 58],
  ]),
  impressions: [{ id: 'impression-1', at: '2026-06-17T09:40:00Z', by: 'marit', leaning: 'unsure' }],
};
