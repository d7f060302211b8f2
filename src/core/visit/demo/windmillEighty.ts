import type { VisitDocument } from '../visitSchema.ts';
import { VISIT_SCHEMA } from '../visitSchema.ts';
import { DEMO_FARM, DEMO_PEOPLE, twoRowSpots } from './farm.ts';

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
  spots: twoRowSpots(
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
