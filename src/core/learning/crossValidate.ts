import { seededRandom } from '../statistics/seededRandom.ts';
import { applyHead } from './applyHead.ts';
import type { Example, MarkLabel } from './example.ts';
import type { Head } from './head.ts';
import { markError } from './markError.ts';
import { photoFolds } from './photoFolds.ts';

/** Trains a head; the adapter that holds the learning library gives it. The same examples and seed give the same head. */
export type TrainHead = (examples: readonly Example[], seed: number) => Promise<Head>;

/** Marks to correct in one photo, by the stock detector and by a head that never saw this photo. */
export interface PhotoErrors {
  readonly photo: string;
  readonly marks: number;
  readonly before: number;
  readonly after: number;
}

export interface CrossValidation {
  /** Photos there were to learn from. */
  readonly checked: number;
  /** By photo name. Empty where there was too little to train on. */
  readonly photos: readonly PhotoErrors[];
  readonly folds: number;
  readonly labels: readonly MarkLabel[];
}

const FOLDS = 5;

/**
 * Errors per photo before and after learning: photos are dealt into five parts, each part is judged by a head trained
 * on the other four, against the stock detector on the same photos. With fewer photos than `leastPhotos` (two at
 * least), or one kind of mark, nothing is trained.
 */
export async function crossValidate(
  examples: readonly Example[],
  train: TrainHead,
  seed: number,
  leastPhotos = 2,
): Promise<CrossValidation> {
  const labels = [...new Set(examples.map((e) => e.label))].sort();
  const names = [...new Set(examples.map((e) => e.photo))];
  const checked = names.length;
  if (checked < Math.max(2, leastPhotos) || labels.length < 2) return { checked, photos: [], folds: 0, labels };
  const folds = photoFolds(names, FOLDS, seededRandom(seed));
  const photos: PhotoErrors[] = [];
  for (const [k, fold] of folds.entries()) {
    const held = new Set(fold);
    const head = await train(
      examples.filter((e) => !held.has(e.photo)),
      seed + k + 1,
    );
    for (const photo of fold) photos.push(photoErrors(photo, examples, head));
  }
  return { checked, photos: photos.sort((a, b) => (a.photo < b.photo ? -1 : 1)), folds: folds.length, labels };
}

/** One photo's marks to correct, by the stock detector and by a head. */
export function photoErrors(photo: string, examples: readonly Example[], head: Head): PhotoErrors {
  const own = examples.filter((e) => e.photo === photo);
  const calls = applyHead(
    head,
    own.map((e) => e.stock),
    own.map((e) => e.features),
  );
  return {
    photo,
    marks: own.length,
    before: own.reduce((sum, e) => sum + markError(e.stock, e.label), 0),
    after: own.reduce((sum, e, k) => sum + markError(calls[k]!, e.label), 0),
  };
}
