import type { CameraView } from './cameraView.ts';
import type { GroupJudge } from './groupParts.ts';
import type { LeafPart } from './leafParts.ts';
import { type PartGroup, partGroup } from './partGroup.ts';

/** No plant at these stages shows more lobes than this, torn leaves and stem pieces included. */
const MOST_PARTS = 10;

/** The likeliest division of parts, in the order given, into runs of neighbours (dynamic programming, exact). */
export function sequenceParts(ordered: readonly LeafPart[], view: CameraView, judge: GroupJudge): readonly PartGroup[] {
  const best = new Float64Array(ordered.length + 1).fill(Number.NEGATIVE_INFINITY);
  const last: (PartGroup | null)[] = new Array(ordered.length + 1).fill(null);
  best[0] = 0;
  for (let end = 1; end <= ordered.length; end++) {
    for (let start = Math.max(0, end - MOST_PARTS); start < end; start++) {
      const group = partGroup(ordered.slice(start, end), view);
      const score = best[start]! + judge(group);
      if (score > best[end]!) {
        best[end] = score;
        last[end] = group;
      }
    }
  }
  const out: PartGroup[] = [];
  for (let end = ordered.length; end > 0; end -= last[end]!.parts.length) out.push(last[end]!);
  return out.reverse();
}
