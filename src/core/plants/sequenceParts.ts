import type { LeafPart } from './leafParts.ts';
import type { Grouper, GroupJudge, PartGroup } from './partGroup.ts';

/** No plant at these stages shows more lobes than this, torn leaves and stem pieces included. */
const MOST_PARTS = 10;

/**
 * The likeliest division of parts, in the order given, into runs of neighbours (dynamic programming, exact). Runs of more
 * than one part beyond the limits are not considered.
 */
export function sequenceParts(
  ordered: readonly LeafPart[],
  group: Grouper,
  judge: GroupJudge,
  limits: { readonly areaMm2: number; readonly spanMm: number },
): readonly PartGroup[] {
  const best = new Float64Array(ordered.length + 1).fill(Number.NEGATIVE_INFINITY);
  const last: (PartGroup | null)[] = new Array(ordered.length + 1).fill(null);
  best[0] = 0;
  for (let end = 1; end <= ordered.length; end++) {
    for (let start = end - 1; start >= Math.max(0, end - MOST_PARTS); start--) {
      const run = group(ordered.slice(start, end));
      // longer runs only grow
      if (start < end - 1 && (run.areaMm2 > limits.areaMm2 || run.spanMm > limits.spanMm)) break;
      const score = best[start]! + judge(run);
      if (score > best[end]!) {
        best[end] = score;
        last[end] = run;
      }
    }
  }
  const out: PartGroup[] = [];
  for (let end = ordered.length; end > 0; end -= last[end]!.parts.length) out.push(last[end]!);
  return out.reverse();
}
