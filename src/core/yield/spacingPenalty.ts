import { own, publishedWith } from '../sources/source.ts';
import type { Penalty } from './gapPenalty.ts';

/** Common bean: 4.4 % of yield lost for each 10 points of within-row spacing CV, straight from 0 to 60 %. */
export const SPACING_CV_RULE = {
  lossPerCv: 0.44,
  lastTestedCv: 0.6,
  yieldAtZeroKgPerHa: 81.5 / 0.044,
  source: publishedWith('Bisognin and others tested CV 0 to 60 %', 'bisognin2019'),
} as const;

/** What an ordinary planted row already has, so that full yields are not blamed twice. */
export const ORDINARY_CV = {
  cv: 0.3,
  source: own('published full yields come from planted rows, not from perfect spacing; no dry-bean figure was read'),
} as const;

/** Yield against perfectly even plants, by the published line; held at its last tested point. */
export function yieldAtSpacingCv(cv: number): number {
  return 1 - SPACING_CV_RULE.lossPerCv * Math.min(SPACING_CV_RULE.lastTestedCv, Math.max(0, cv));
}

/**
 * What uneven spacing costs against an ordinary planted row. High edge: nothing, because stands thinned at random in
 * the density trials were as uneven. Low edge: the published line. `cv` leaves out gaps that are charged on their own.
 */
export function spacingPenalty(cv: number): Penalty {
  const against = Math.min(1, yieldAtSpacingCv(cv) / yieldAtSpacingCv(ORDINARY_CV.cv));
  const beyond = cv > SPACING_CV_RULE.lastTestedCv ? '; beyond the tested 60 %, held there' : '';
  return {
    factor: { low: against, high: 1 },
    says: `spacing CV ${Math.round(cv * 100)} %${beyond}`,
    source: SPACING_CV_RULE.source,
  };
}
