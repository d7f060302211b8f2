import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

/** Pintos hailed on yesterday evening: nobody can tell yet which plants live. */
export const churchCorner: VisitDocument = {
  schema: VISIT_SCHEMA,
  id: 'visit-church-corner-2026-06-19',
  visitedOn: '2026-06-19',
  units: 'imperial',
  people: DEMO_PEOPLE,
  farm: DEMO_FARM,
  field: { id: 'field-church-corner', name: 'Church Corner', area: '38 ac', insured: true },
  season: 2026,
  planting: {
    id: 'planting-church-corner-2026',
    plantedOn: '2026-05-28',
    marketClass: 'pinto',
    growthHabit: 'III',
    rowWidth: '30 in',
    seedDrop: '80,000 seeds/ac',
  },
  spots: twoRowSpots('17 ft 5 in', [
    [61, 66],
    [58, 63],
    [64, 60],
    [66, 59],
  ]),
  damage: [
    {
      id: 'damage-1',
      hazard: 'hail',
      happenedOn: '2026-06-18',
      stage: { code: 'V2', convention: 'trifoliolate' },
      plants: { growing: 22, budsAlive: 10, doubtful: 25, dead: 9 },
      seen: [
        { id: 'seen-1', number: 4, cut: 'above cotyledons', cotyledons: 2 },
        { id: 'seen-2', number: 4, cut: 'below cotyledons' },
        { id: 'seen-3', number: 6, cut: 'above cotyledons', cotyledons: 0 },
      ],
      leafLost: '60 %',
    },
  ],
  impressions: [
    { id: 'impression-1', at: '2026-06-19T07:55:00Z', by: 'marit', leaning: 'replant', words: 'It is gone.' },
  ],
};
