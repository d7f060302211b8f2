import type { Detection } from '../plants/detection.ts';

/** What a mark truly was, as a person left it. */
export const MARK_LABELS = ['plant', 'weed', 'double', 'not a plant'] as const;
export type MarkLabel = (typeof MARK_LABELS)[number];

/** The part of a mark that a head reads and rewrites. */
export type MarkCall = Pick<Detection, 'kind' | 'confidence' | 'doubleChance'>;

/** One mark of a checked photo with what a person says it is. */
export interface Example {
  /** SHA-256 of the photo: marks of one photo are held out together. */
  readonly photo: string;
  readonly markId: string;
  /** What the stock detector said. */
  readonly stock: MarkCall;
  /** As `FEATURE_NAMES` lists them. */
  readonly features: readonly number[];
  readonly label: MarkLabel;
}
