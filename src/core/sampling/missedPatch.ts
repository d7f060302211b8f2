/** A patch of a fifth of the field is big enough to replant, and small enough to be walked past. */
export const PATCH_SHARE = 0.2;
/** The same chance in 10 that a 90 % interval takes anyway. */
export const PATCH_RISK = 0.1;

/**
 * Chance that none of n spots, picked at random, lies in a patch that covers this share of the field: (1 - share)^n.
 * No interval computed from the spots can know of a patch that none of them hit.
 */
export function chanceOfMissingPatch(spots: number, patchShare: number): number {
  if (!(patchShare > 0 && patchShare < 1)) throw new RangeError(`a share lies between 0 and 1, got ${patchShare}`);
  return (1 - patchShare) ** spots;
}

/** Spots after which a patch of this share is missed with at most this chance. */
export function spotsToFindPatch(patchShare: number, risk: number): number {
  return Math.ceil(Math.log(risk) / Math.log(1 - patchShare) - 1e-9);
}
