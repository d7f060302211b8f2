import type { PlantKind } from '../plants/detection.ts';

/**
 * One thing a person says against a photo's count. Places are pixels of the upright photo: they stay true when the
 * reference is solved anew. Nothing here is ever rewritten; taking something back is a record too.
 */
export type PhotoChange =
  /** The mark is what it is said to be. */
  | { readonly kind: 'confirm plant'; readonly plantId: string }
  /** Nothing stands here. */
  | { readonly kind: 'remove plant'; readonly plantId: string }
  | { readonly kind: 'name plant'; readonly plantId: string; readonly as: PlantKind }
  | { readonly kind: 'mark damaged'; readonly plantId: string; readonly damaged: boolean }
  /** A plant that has no mark. By hand along a tape `along` says where (with its unit), on a photo its pixel. */
  | {
      readonly kind: 'add plant';
      readonly plantId: string;
      readonly along?: string | undefined;
      readonly xPx?: number | undefined;
      readonly yPx?: number | undefined;
    }
  | { readonly kind: 'move plant'; readonly plantId: string; readonly xPx: number; readonly yPx: number }
  /** One mark is two plants; they are known as `plantId.1` and `plantId.2`. */
  | { readonly kind: 'split plant'; readonly plantId: string }
  /** Two marks are one plant, which keeps the first name. */
  | { readonly kind: 'merge plants'; readonly plantId: string; readonly otherId: string }
  /** A reading of the reference lies elsewhere in the photo. */
  | { readonly kind: 'move reading'; readonly readingM: number; readonly xPx: number; readonly yPx: number }
  /** Every mark of the stretch was looked at: what was left alone is right. */
  | { readonly kind: 'check photo' }
  | { readonly kind: 'undo'; readonly correctionId: string }
  | { readonly kind: 'redo'; readonly correctionId: string };

/** What a person says of a whole count, with no mark in view. */
export type HandChange =
  | { readonly kind: 'set row plants'; readonly row: number; readonly plants: number }
  | { readonly kind: 'set plants'; readonly plants: number }
  | { readonly kind: 'leave out' };

/** A change with who made it and when; lists of them only grow. */
export interface Correction {
  readonly id: string;
  /** ISO 8601 with offset. */
  readonly at: string;
  readonly by: string;
  readonly change: PhotoChange | HandChange;
  readonly why?: string | undefined;
}
