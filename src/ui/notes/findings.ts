import type { PlantSigns } from '../../core/damage/growingPoint.ts';
import type { VisitDamage } from '../../core/visit/visitSchema.ts';

/** One thing seen on a hurt plant, as a button names it. */
export interface Finding {
  /** Part of the id of what is noted: never changed. */
  readonly id: string;
  readonly label: string;
  readonly signs: PlantSigns;
}

/** What decides a plant's fate by the published rules (`judgePlant`), commonest first. */
export const FINDINGS: readonly Finding[] = [
  { id: 'tip-green', label: 'Growing point green', signs: { growingPoint: 'green' } },
  { id: 'bud-green', label: 'Tip gone, a bud green', signs: { growingPoint: 'gone', axillaryBuds: 'green' } },
  { id: 'no-bud', label: 'Tip gone, no bud left', signs: { growingPoint: 'gone', axillaryBuds: 'none' } },
  { id: 'tip-brown', label: 'Tip brown, buds not seen', signs: { growingPoint: 'brown' } },
  { id: 'cut-low', label: 'Cut below the cotyledons', signs: { cut: 'below cotyledons' } },
  { id: 'cut-both', label: 'Cut above, both cotyledons left', signs: { cut: 'above cotyledons', cotyledons: 2 } },
  { id: 'cut-one', label: 'Cut above, one cotyledon left', signs: { cut: 'above cotyledons', cotyledons: 1 } },
  { id: 'cut-none', label: 'Cut above, no cotyledon left', signs: { cut: 'above cotyledons', cotyledons: 0 } },
  { id: 'cut-high', label: 'Cut above the first true leaves', signs: { cut: 'above unifoliates' } },
  { id: 'folded', label: 'Stem bruised and folded over', signs: { stem: 'heavily bruised and folded' } },
];

const SIGNS = ['cut', 'cotyledons', 'growingPoint', 'axillaryBuds', 'stem'] as const;

/** Plants noted by what was seen on them: on which exactly this was, or, without signs, all. */
export function seenPlants({ seen = [] }: Pick<VisitDamage, 'seen'>, signs?: PlantSigns): number {
  return seen
    .filter((one) => signs === undefined || SIGNS.every((sign) => one[sign] === signs[sign]))
    .reduce((sum, one) => sum + one.number, 0);
}
