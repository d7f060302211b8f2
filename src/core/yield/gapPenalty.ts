import type { Source } from '../sources/source.ts';
import { published, publishedWith } from '../sources/source.ts';
import { METRES_PER_FOOT } from '../units/conversions.ts';
import type { Band } from './band.ts';

/**
 * From this gap on neighbours do not fill it, for soybean, the nearest crop read. No gap rule for dry beans was
 * found in print.
 */
export const COSTLY_GAP = {
  lengthM: 2 * METRES_PER_FOOT,
  source: publishedWith(
    'soybean; the dry-bean rule is unknown',
    'iowaReplant1999',
    'isuSkipsDoubles',
    'ndsuSoybeanGaps2011',
  ),
} as const;

/** 70,000 soybeans with two fifths of the row in gaps make 83 % where an even stand makes 90 to 95 %. */
export const GAPPED_SOYBEAN = {
  gapShare: 0.4,
  yieldShare: 0.83,
  evenYieldShare: { low: 0.9, high: 0.95 },
  source: published('pennStateReplant'),
} as const;

/** A gap costs yield only when it is longer than the rule's length (1.9 ft is not counted, 2.1 ft is). */
export function isCostlyGap(lengthM: number): boolean {
  return lengthM > COSTLY_GAP.lengthM;
}

/** Share of the row that lies in costly gaps. Zero for a row of no length. */
export function costlyGapShare(gapLengthsM: readonly number[], rowLengthM: number): number {
  if (rowLengthM <= 0) return 0;
  const inGaps = gapLengthsM.filter(isCostlyGap).reduce((sum, gap) => sum + gap, 0);
  return Math.min(1, inGaps / rowLengthM);
}

export interface Penalty {
  /** Multiplies the yield of the same number of plants standing evenly; 1 is no loss. */
  readonly factor: Band;
  readonly says: string;
  readonly source: Source;
}

const SLOPE: Band = {
  low: (1 - GAPPED_SOYBEAN.yieldShare / GAPPED_SOYBEAN.evenYieldShare.low) / GAPPED_SOYBEAN.gapShare,
  high: (1 - GAPPED_SOYBEAN.yieldShare / GAPPED_SOYBEAN.evenYieldShare.high) / GAPPED_SOYBEAN.gapShare,
};

/**
 * What gaps cost beyond the plants they lack: a straight line through the one published pair (0.83 over 0.90 to 0.95
 * at two fifths), as a band. Past two fifths it is carried on and says so. Never above 1.
 */
export function gapPenalty(gapShare: number): Penalty {
  const share = Math.min(1, Math.max(0, gapShare));
  const beyond = share > GAPPED_SOYBEAN.gapShare ? '; beyond the published 40 %, carried on' : '';
  return {
    factor: { low: Math.max(0, 1 - SLOPE.high * share), high: Math.max(0, 1 - SLOPE.low * share) },
    says: `${Math.round(share * 100)} % of the row in gaps over 2 ft${beyond}`,
    source: publishedWith('soybean; the dry-bean rule is unknown', 'pennStateReplant', 'iowaReplant1999'),
  };
}
