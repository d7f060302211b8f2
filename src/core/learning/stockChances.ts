import type { MarkCall, MarkLabel } from './example.ts';

/** No answer is ruled out: a detector that was never wrong on its own pictures may be wrong here. Our own choice. */
const LEAST_CHANCE = 0.02;
/** Of what is no crop plant, the share that is a weed, by what the stock detector called it. Our own choice. */
const WEED_SHARE = { weed: 0.8, unsure: 0.5, plant: 0.5 } as const;

/** The stock detector's chances of what a mark is, in the order of the labels; they sum to 1. */
export function stockChances(
  { kind, confidence, doubleChance }: MarkCall,
  labels: readonly MarkLabel[],
): readonly number[] {
  const double = clamp(doubleChance);
  const plant = Math.min(clamp(confidence), 1 - double);
  const none = 1 - double - plant;
  const chances: Readonly<Record<MarkLabel, number>> = {
    plant,
    double,
    weed: none * WEED_SHARE[kind],
    'not a plant': none * (1 - WEED_SHARE[kind]),
  };
  const raised = labels.map((label) => Math.max(LEAST_CHANCE, chances[label]));
  const sum = raised.reduce((a, b) => a + b, 0);
  return raised.map((chance) => chance / sum);
}

function clamp(chance: number): number {
  return Math.min(1, Math.max(0, chance));
}
