import type { Correction } from '../corrections/correction.ts';
import { type CorrectedResult, replay } from '../corrections/replay.ts';
import type { CountResult } from '../count/countResult.ts';
import type { Example, MarkCall, MarkLabel } from './example.ts';

/** A photo as a person went through it. */
export interface SeenPhoto {
  /** The count that the person saw and corrected, by whatever version of the detector. */
  readonly result: CountResult;
  /** The stock detector's own marks of the same strip, under the same names. */
  readonly stock: readonly (MarkCall & { readonly id: string })[];
  /** One list for each mark of `stock`; null where the photo gave no scale. */
  readonly features: readonly (readonly number[])[] | null;
  readonly corrections: readonly Correction[];
}

export interface LearningSet {
  /** By photo, then by mark: the same whatever order the photos came in. */
  readonly examples: readonly Example[];
  readonly photos: number;
  /** Photos that teach nothing, with the reason. */
  readonly leftOut: readonly { readonly photo: string; readonly why: string }[];
}

/**
 * What corrected photos teach. Only photos that were gone through whole count (said to be checked, or every mark of the
 * stretch touched): elsewhere the touched marks are mostly wrong ones, and a head trained on them would turn all the
 * rest over. In a checked photo a mark left alone is confirmed; one left as `unsure`, or outside the stretch, is not
 * told and gives no example. Plants that a person added have no mark, so no head can find them: they teach nothing here.
 */
export function learningSet(photos: readonly SeenPhoto[]): LearningSet {
  const examples: Example[] = [];
  const leftOut: { photo: string; why: string }[] = [];
  const seen = new Set<string>();
  for (const one of photos) {
    const photo = one.result.photo.sha256;
    const corrected = replay(one.result, one.corrections);
    const why = seen.has(photo) ? 'given twice' : reasonAgainst(one, corrected);
    if (why !== null) leftOut.push({ photo, why });
    else {
      seen.add(photo);
      examples.push(...examplesOf(one, corrected));
    }
  }
  examples.sort((a, b) => order(a.photo, b.photo) || order(a.markId, b.markId));
  return { examples, photos: new Set(examples.map((e) => e.photo)).size, leftOut };
}

function reasonAgainst({ result, stock, features }: SeenPhoto, corrected: CorrectedResult): string | null {
  if (features === null) return 'no scale, so sizes and distances are not known';
  const names = new Set(result.plants.map((p) => p.id));
  if (stock.length !== names.size || features.length !== stock.length || !stock.every((d) => names.has(d.id))) {
    return 'its marks are not those of this detector: analyse it anew';
  }
  const touchedAll = corrected.plants.every((p) => !p.inStretch || p.checked !== null);
  if (corrected.checkedWhole === null && (!touchedAll || corrected.checkedBy.length === 0)) {
    return 'not gone through whole';
  }
  return null;
}

function examplesOf({ stock, features, result }: SeenPhoto, corrected: CorrectedResult): readonly Example[] {
  return stock.flatMap((d, k): Example[] => {
    const label = labelOf(d.id, corrected);
    if (label === null) return [];
    const { kind, confidence, doubleChance } = d;
    return [
      {
        photo: result.photo.sha256,
        markId: d.id,
        stock: { kind, confidence, doubleChance },
        features: features![k]!,
        label,
      },
    ];
  });
}

/** What became of a machine's mark; null where nobody said. */
function labelOf(id: string, { plants }: CorrectedResult): MarkLabel | null {
  const left = plants.filter((p) => p.machine?.id === id);
  // Gone without a trace of its own: taken off, or found to be a second mark of a neighbour.
  if (left.length === 0) return 'not a plant';
  if (left.every((p) => p.checked === null && !p.inStretch)) return null;
  if (left.some((p) => p.kind === 'unsure')) return null;
  const standing = left.filter((p) => p.kind === 'plant').length;
  if (standing > 1) return 'double';
  if (standing === 1) return 'plant';
  return 'weed';
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
