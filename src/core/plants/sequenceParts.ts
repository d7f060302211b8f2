import type { LeafPart } from './leafParts.ts';
import type { Grouper, GroupJudge, PartGroup } from './partGroup.ts';

/** No plant at these stages shows more lobes than this, torn leaves and stem pieces included. */
const MOST_PARTS = 10;

/**
 * The likeliest division of parts, in the order given, into runs of neighbours (dynamic programming, exact). Runs of more
 * than one part beyond the limits are not considered.
 *
 * @param between what speaks for two runs standing next to each other.
 */
export function sequenceParts(
  ordered: readonly LeafPart[],
  group: Grouper,
  judge: GroupJudge,
  between: (left: PartGroup, right: PartGroup) => number,
  limits: { readonly areaMm2: number; readonly spanMm: number },
): readonly PartGroup[] {
  interface Run {
    readonly group: PartGroup;
    readonly score: number;
    readonly before: Run | null;
  }
  // the best division that ends with each run, by the run's end
  const ending: Run[][] = [[]];
  for (let end = 1; end <= ordered.length; end++) {
    const runs: Run[] = [];
    for (let start = end - 1; start >= Math.max(0, end - MOST_PARTS); start--) {
      const run = group(ordered.slice(start, end));
      // longer runs only grow
      if (start < end - 1 && (run.areaMm2 > limits.areaMm2 || run.spanMm > limits.spanMm)) break;
      let best = start === 0 ? 0 : Number.NEGATIVE_INFINITY;
      let before: Run | null = null;
      for (const left of ending[start]!) {
        const score = left.score + between(left.group, run);
        if (score > best) {
          best = score;
          before = left;
        }
      }
      runs.push({ group: run, score: best + judge(run), before });
    }
    ending.push(runs);
  }
  let at: Run | null = ending[ordered.length]!.reduce((a, b) => (b.score > a.score ? b : a));
  const out: PartGroup[] = [];
  for (; at !== null; at = at.before) out.push(at.group);
  return out.reverse();
}
