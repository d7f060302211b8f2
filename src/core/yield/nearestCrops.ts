import { published } from '../sources/source.ts';

/** Corn stand (thousand plants/ac) by planting window, percent of the best: Iowa State University Extension. */
export const IOWA_CORN_GRID = {
  windows: ['20 Apr-5 May', '13-19 May', '26 May-1 Jun', '10-16 Jun', '24-28 Jun'],
  stands: ['28-32', '24', '20', '16', '12'],
  /** Effect of the window alone (first row of the grid). */
  windowPercent: [100, 99, 90, 68, 52],
  /** Effect of the stand alone (first column of the grid). */
  standPercent: [100, 94, 81, 74, 68],
  source: published('iowaCorn2009'),
} as const;

/**
 * Percent of full yield as stand effect times date effect, whole percent: the rule by which the published corn grid
 * is built, and the reason why stand, gaps and date multiply here. `standTimesDate(81, 68)` is 55.
 */
export function standTimesDate(standPercent: number, datePercent: number): number {
  return Math.round((standPercent * datePercent) / 100);
}

/** Soybean stands (plants/ac) and the share of full yield published for them, the closest crop to dry beans. */
export const SOYBEAN_STANDS = [
  {
    plantsPerAcre: 100_000,
    yieldShare: { low: 1, high: 1 },
    source: published('minnesotaSoybean', 'pennStateReplant'),
  },
  { plantsPerAcre: 80_000, yieldShare: { low: 0.9, high: 0.95 }, source: published('minnesotaSoybean') },
  { plantsPerAcre: 75_000, yieldShare: { low: 0.8, high: 0.9 }, source: published('ndsuSoybeanStands2010') },
  { plantsPerAcre: 70_000, yieldShare: { low: 0.9, high: 0.95 }, source: published('pennStateReplant') },
  {
    plantsPerAcre: 50_000,
    yieldShare: { low: 0.85, high: 0.91 },
    source: published('illinoisReplant2009', 'ohioReplant'),
  },
  { plantsPerAcre: 46_000, yieldShare: { low: 66 / 79, high: 66 / 79 }, source: published('pennStateReplant') },
  { plantsPerAcre: 39_000, yieldShare: { low: 0.75, high: 0.75 }, source: published('minnesotaSoybean') },
] as const;

/** Corn: bushels per acre lost for each inch of spacing SD above two, 4 bu at most by Nielsen (Purdue) 2004. */
export function cornSpacingLossBuPerAcre(spacingSdIn: number): number {
  return Math.max(0, spacingSdIn - 2) * 4;
}
