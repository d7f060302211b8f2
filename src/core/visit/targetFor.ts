import { COMMON_PRACTICE, ENTERED } from '../sources/source.ts';
import { SQUARE_METRES_PER_ACRE } from '../units/conversions.ts';
import type { GrowthHabit } from '../yield/growthHabit.ts';
import type { TargetNumbers } from './assessment.ts';
import { quantityIn } from './quantity.ts';
import type { VisitDocument } from './visitSchema.ts';

export function targetFor(visit: VisitDocument, _habit: GrowthHabit): TargetNumbers {
  const t = quantityIn(visit.planting.target, 'density');
  if (t !== null) return { perM2: t, says: 'entered', source: ENTERED };
  const c: Record<string, number> = {
    navy: 137_000,
    black: 97_000,
    pinto: 75_000,
    'great northern': 80_000,
    kidney: 70_000,
    cranberry: 70_000,
  };
  return {
    perM2: (c[visit.planting.marketClass] ?? 75_000) / SQUARE_METRES_PER_ACRE,
    says: visit.planting.marketClass,
    source: COMMON_PRACTICE,
  };
}
