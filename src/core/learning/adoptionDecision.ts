import { describe } from '../statistics/describe.ts';
import type { Interval } from '../statistics/interval.ts';
import { studentTQuantile } from '../statistics/studentT.ts';
import type { CrossValidation } from './crossValidate.ts';

/** Whether to take a head, with the numbers behind it. Means are marks to correct per photo. */
export interface AdoptionDecision {
  readonly verdict: 'adopt' | 'keep the stock detector' | 'cannot tell';
  readonly reason: string;
  readonly photos: number;
  readonly before: number | null;
  readonly after: number | null;
  /** Mean of before minus after over the photos, with its interval; null where nothing was compared. */
  readonly saved: { readonly mean: number; readonly interval: Interval } | null;
}

/** Our own choices. */
export interface AdoptionRule {
  readonly leastPhotos: number;
  /** Share of the stock detector's errors that have to go. */
  readonly leastShareSaved: number;
  /** Level of the paired interval. High, since the question is asked again after every few photos. */
  readonly level: number;
}

export const ADOPTION_RULE: AdoptionRule = { leastPhotos: 8, leastShareSaved: 0.2, level: 0.98 };

/**
 * Takes a head only when it saves enough corrections on photos that it did not see: the paired interval of the saving
 * lies above zero, the mean saving reaches the margin, and enough photos were compared. Otherwise the stock detector
 * stays, or it cannot be told yet.
 *
 * The interval is Student's t on the differences photo by photo. Heads of a cross-validation share training photos, so
 * its standard error is stretched by sqrt(1 + k / (k - 1)) for k folds: the correction of Nadeau & Bengio (2003, Mach.
 * Learn. 52:239-281, variance 1/n + test/train in place of 1/n) written for k fold means, from memory.
 */
export function adoptionDecision(
  { checked, photos, folds, labels }: CrossValidation,
  rule: AdoptionRule = ADOPTION_RULE,
): AdoptionDecision {
  const n = photos.length;
  const unable = whyNot(checked, labels, rule);
  if (unable !== null || n < 2) {
    const reason = `cannot tell, because ${unable ?? 'nothing was compared'}`;
    return { verdict: 'cannot tell', reason, photos: checked, before: null, after: null, saved: null };
  }
  const before = mean(photos.map((p) => p.before));
  const after = mean(photos.map((p) => p.after));
  const saved = { mean: before - after, interval: savingInterval(photos, folds, rule.level) };
  const numbers = { photos: n, before, after, saved };
  const fromTo = `${before.toFixed(1)} to ${after.toFixed(1)} corrections a photo`;
  if (before === 0) {
    return { verdict: 'keep the stock detector', reason: 'it made no error on these photos', ...numbers };
  }
  const { low, high, level } = saved.interval;
  const margin = rule.leastShareSaved * before;
  const range = `saving ${low.toFixed(2)} to ${high.toFixed(2)}, ${(100 * level).toFixed(0)} % interval, ${n} photos`;
  if (low > 0 && saved.mean >= margin) return { verdict: 'adopt', reason: `${fromTo} (${range})`, ...numbers };
  if (high < margin || low > 0) {
    const reason = `learning saves too little: ${fromTo} (${range}; ${margin.toFixed(2)} wanted)`;
    return { verdict: 'keep the stock detector', reason, ...numbers };
  }
  return {
    verdict: 'cannot tell',
    reason: `cannot tell, because the interval holds zero: ${fromTo} (${range})`,
    ...numbers,
  };
}

function whyNot(checked: number, labels: CrossValidation['labels'], { leastPhotos }: AdoptionRule): string | null {
  if (checked === 0) return 'no photo was checked';
  if (checked < leastPhotos) {
    return `${checked} checked ${checked === 1 ? 'photo is' : 'photos are'} too few: ${leastPhotos} are wanted`;
  }
  return labels.length < 2 ? `all checked marks are of one kind (${labels[0]})` : null;
}

function savingInterval(photos: CrossValidation['photos'], folds: number, level: number): Interval {
  const differences = photos.map((p) => p.before - p.after);
  const n = differences.length;
  const sd = describe(differences).sd as number;
  const error = (sd / Math.sqrt(n)) * Math.sqrt(1 + folds / (folds - 1));
  const half = studentTQuantile(1 - (1 - level) / 2, n - 1) * error;
  const at = mean(differences);
  return { low: at - half, high: at + half, level, method: `paired t over ${n} photos, widened for ${folds} folds` };
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}
