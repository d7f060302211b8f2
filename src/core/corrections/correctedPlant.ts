import type { CountedPlant } from '../count/countResult.ts';

/** What a person last did to a mark. */
export type Check = 'confirmed' | 'named' | 'damaged' | 'added' | 'moved' | 'split' | 'merged' | 'removed';

/** A mark as it stands after the corrections. */
export interface CorrectedPlant extends CountedPlant {
  readonly damaged: boolean;
  /** Who touched it last and how; null: as the machine left it. */
  readonly checked: { readonly by: string; readonly did: Check } | null;
  /** The machine's own mark it comes from; null for a plant that a person added. */
  readonly machine: CountedPlant | null;
}

/** Whether a person vouches for what this mark is: then it carries no doubt of detection. */
export function isVouched(plant: CorrectedPlant): boolean {
  return plant.checked !== null && plant.kind !== 'unsure';
}

/** The machine's mark, untouched. Written out, since spreading 200 plants at every touch is what takes the time. */
export function untouched(plant: CountedPlant): CorrectedPlant {
  const { id, xPx, yPx, alongM, acrossM, kind, inStretch, confidence, doubleChance, alongSdMm } = plant;
  return {
    id,
    xPx,
    yPx,
    alongM,
    acrossM,
    kind,
    inStretch,
    confidence,
    doubleChance,
    alongSdMm,
    damaged: false,
    checked: null,
    machine: plant,
  };
}
