import type { Outcome } from '../core/faults/outcome.ts';
import type { Learned } from '../core/learning/learn.ts';
import type { LearningSet } from '../core/learning/learningSet.ts';
import type { HeadAbout } from './trainHead.ts';

/** What a page may ask of the thread that learns. */
export interface LearningRequest {
  readonly set: LearningSet;
  readonly seed: number;
  readonly about: HeadAbout;
}

/** The comparison on held-out photos and, where it pays, the head; or why there is none. */
export type LearningReply = Outcome<Learned>;
