import { published } from '../sources/source.ts';

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

/** Corn: four bushels per acre lost for each inch of spacing SD above two (Nielsen, Purdue, 2004). */
export function cornSpacingLossBuPerAcre(spacingSdIn: number): number {
  return Math.max(0, spacingSdIn - 2) * 4;
}

/** The published soybean point nearest to a stand, per acre. */
export function nearestSoybeanStand(plantsPerAcre: number): (typeof SOYBEAN_STANDS)[number] {
  const far = (point: (typeof SOYBEAN_STANDS)[number]) => Math.abs(point.plantsPerAcre - plantsPerAcre);
  return SOYBEAN_STANDS.reduce((best, point) => (far(point) < far(best) ? point : best));
}
