import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { countClasses, type SpacingClass } from './spacingClass.ts';

/** How the planter placed seeds, by one of the two published forms, which give different numbers on the same row. */
export interface PlantingShares {
  readonly form: 'plain shares of spacings' | 'ISO 7256/1 seed positions';
  /** What the shares are of: spacings, or seed positions. */
  readonly of: number;
  readonly multiples: number;
  /** Quality of feed. */
  readonly feed: number;
  readonly misses: number;
  readonly classes: Readonly<Record<SpacingClass, number>>;
}

/**
 * The plain form used by extension and horticulture papers: shares of all spacings that are multiples (up to 0.5 of the
 * theoretical spacing), misses (above 1.5) and the rest (Bracy & Parish, HortTechnology, quoting ISO 7256/1-1984).
 */
export function plainShares(spacings: readonly number[], theoreticalM: number): Outcome<PlantingShares> {
  if (spacings.length === 0) return noSpacing();
  const classes = countClasses(spacings, theoreticalM);
  const of = spacings.length;
  return good({
    form: 'plain shares of spacings',
    of,
    multiples: classes.I / of,
    feed: classes.II / of,
    misses: (classes.III + classes.IV + classes.V) / of,
    classes,
  });
}

/**
 * The seed-position form of ISO 7256/1-1984: a long spacing holds one, two or three missing seeds, a multiple takes one
 * from the seeds placed as meant. n2 = class I, n0 = III + 2 IV + 3 V, n1 = N - 2 n2, and all are shares of the
 * positions n0 + n1 + n2. From memory of the standard; its text was not read, the identity was checked.
 *
 * Refuses rows where more than half of the spacings are multiples: n1 would be below 0.
 */
export function seedPositionShares(spacings: readonly number[], theoreticalM: number): Outcome<PlantingShares> {
  if (spacings.length === 0) return noSpacing();
  const classes = countClasses(spacings, theoreticalM);
  const doubled = classes.I;
  const missing = classes.III + 2 * classes.IV + 3 * classes.V;
  const single = spacings.length - 2 * doubled;
  if (single < 0) {
    return cannot(
      'mostly multiples',
      `${doubled} multiples in ${spacings.length} spacings`,
      'no more than half multiples for the seed-position form',
      'Check the theoretical spacing, or read the plain shares.',
    );
  }
  const of = missing + single + doubled;
  if (of === 0) return noSpacing();
  return good({
    form: 'ISO 7256/1 seed positions',
    of,
    multiples: doubled / of,
    feed: single / of,
    misses: missing / of,
    classes,
  });
}

function noSpacing() {
  return cannot('no spacing', 'fewer than two plants', 'two plants or more', 'Measure a longer stretch.');
}
