import { ADOPTION_RULE, type AdoptionDecision, type AdoptionRule, adoptionDecision } from './adoptionDecision.ts';
import { crossValidate, type PhotoErrors, type TrainHead } from './crossValidate.ts';
import type { Head } from './head.ts';
import type { LearningSet } from './learningSet.ts';

/** A head trained on all checked photos, and whether to take it; no head where the decision is not to. */
export interface Learned {
  readonly decision: AdoptionDecision;
  readonly photos: readonly PhotoErrors[];
  readonly head: Head | null;
}

/** Learns from corrected photos: compares on held-out photos first, and trains on all of them only when that pays. */
export async function learn(
  { examples }: LearningSet,
  train: TrainHead,
  seed: number,
  rule: AdoptionRule = ADOPTION_RULE,
): Promise<Learned> {
  const validation = await crossValidate(examples, train, seed, rule.leastPhotos);
  const decision = adoptionDecision(validation, rule);
  const head = decision.verdict === 'adopt' ? await train(examples, seed) : null;
  return { decision, photos: validation.photos, head };
}
