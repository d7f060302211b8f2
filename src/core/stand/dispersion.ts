import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { chiSquareCdf, chiSquareUpper } from '../statistics/chiSquare.ts';
import { describe } from '../statistics/describe.ts';

/** What counts of equal pieces of row or ground say of the pattern. */
export interface Dispersion {
  /** Variance over mean: 1 where plants fall at random, below for even rows, above for clumps. */
  readonly index: number;
  readonly n: number;
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** Two-sided chance of an index this far from 1 if plants fell at random. */
  readonly p: number;
  readonly pattern: 'even' | 'random' | 'clumped';
  readonly reasons: readonly string[];
}

/** Below this mean per piece the chi-square of the test is rough. */
const LEAST_MEAN = 1;

/**
 * Index of dispersion of counts on equal pieces, with its chi-square test on n - 1 degrees of freedom (Fisher 1925,
 * Statistical Methods for Research Workers, section 19). "Random" means that the test does not reject it, no more.
 *
 * @param significance chance taken of calling a random row patterned, e.g. 0.05
 */
export function dispersion(counts: readonly number[], significance: number): Outcome<Dispersion> {
  const { n, mean, variance } = describe(counts);
  if (mean === null || variance === null) {
    return cannot('too few pieces', `${n} counts`, 'counts of two or more equal pieces', 'Count more pieces.');
  }
  if (!(mean > 0)) return cannot('no plants', 'no plant in any piece', 'plants in some pieces', 'Count elsewhere.');
  const index = variance / mean;
  const df = n - 1;
  const chiSquare = index * df;
  const p = Math.min(1, 2 * Math.min(chiSquareCdf(chiSquare, df), chiSquareUpper(chiSquare, df)));
  const pattern = p >= significance ? 'random' : index > 1 ? 'clumped' : 'even';
  const reasons =
    mean < LEAST_MEAN ? [`only ${mean.toFixed(2)} plants a piece: the test is rough, take longer pieces`] : [];
  return good({ index, n, chiSquare, degreesOfFreedom: df, p, pattern, reasons });
}

/**
 * Plants in equal pieces of a stretch, to give `dispersion`. A last piece shorter than the others is left out. A plant
 * on a border belongs to the piece that begins there.
 */
export function countPieces(positionsM: readonly number[], fromM: number, toM: number, pieceM: number): number[] {
  if (!(pieceM > 0)) throw new RangeError(`a piece is longer than 0 m, got ${pieceM}`);
  const pieces = Math.max(0, Math.floor((toM - fromM) / pieceM + 1e-9));
  const counts = new Array<number>(pieces).fill(0);
  for (const p of positionsM) {
    const piece = Math.floor((p - fromM) / pieceM);
    if (piece >= 0 && piece < pieces) counts[piece]!++;
  }
  return counts;
}
