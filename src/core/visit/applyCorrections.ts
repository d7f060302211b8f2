import type { Correction, HandChange } from '../corrections/correction.ts';
import { replay } from '../corrections/replay.ts';
import { type Deed, standingChanges } from '../corrections/standingChanges.ts';
import type { CountResult } from '../count/countResult.ts';
import type { PhotoResult, VisitCount } from './countSchema.ts';
import type { VisitDocument } from './visitSchema.ts';

/** A count as it stands after the corrections, and whether a person left it out. */
export interface CorrectedCount {
  readonly count: VisitCount;
  readonly leftOut: string | null;
  readonly corrections: number;
}

type VisitCorrection = NonNullable<VisitDocument['corrections']>[number];

/**
 * Replays the corrections of one count on top of what was counted, oldest first (same moment: as they are listed). The
 * count given is left alone. A correction that does not fit its count changes nothing.
 *
 * @param nameOf how a person is called, by their id.
 */
export function applyCorrections(
  count: VisitCount,
  corrections: readonly VisitCorrection[],
  nameOf: (id: string) => string = (id) => id,
): CorrectedCount {
  const own: readonly Correction[] = corrections.filter((correction) => correction.countId === count.id);
  if (own.length === 0) return { count, leftOut: null, corrections: 0 };
  const { standing } = standingChanges(own);
  let leftOut: string | null = null;
  let now: VisitCount =
    count.kind === 'photo' ? { ...count, result: changedPhoto(count.result, standing, nameOf) } : count;
  for (const { change, why } of standing) {
    if (change.kind === 'leave out') leftOut = why ?? 'no reason given';
    else if (change.kind === 'set plants' || change.kind === 'set row plants') now = setByHand(now, change);
  }
  return { count: now, leftOut, corrections: own.length };
}

function setByHand(count: VisitCount, change: Exclude<HandChange, { kind: 'leave out' }>): VisitCount {
  if (change.kind === 'set row plants') {
    if (count.kind !== 'rows' || change.row >= count.plants.length) return count;
    return { ...count, plants: count.plants.map((plants, row) => (row === change.row ? change.plants : plants)) };
  }
  if (count.kind === 'photo') return { ...count, result: shifted(count.result, change.plants) };
  if (count.kind !== 'rows') return { ...count, plants: change.plants };
  return count.plants.length === 1 ? { ...count, plants: [change.plants] } : count;
}

/** A total put in by hand keeps the doubt that the marks had. */
function shifted(result: PhotoResult, plants: number): PhotoResult {
  const { count } = result;
  const moved = (n: number) => Math.max(0, n + plants - count.value);
  return { ...result, count: { ...count, value: plants, low: moved(count.low), high: moved(count.high) } };
}

/** What a result of another maker may lack. */
const BARE = {
  reference: {
    kind: 'none',
    endsPx: null,
    endsM: null,
    photoToGround: null,
    alongErrorMm: null,
    reason: 'not told',
    cues: [],
    readings: [],
  },
  population: null,
} as const;

function changedPhoto(result: PhotoResult, standing: readonly Deed[], nameOf: (id: string) => string): PhotoResult {
  const marks = standing.filter(({ change }) => change.kind !== 'leave out' && change.kind !== 'set plants');
  if (marks.length === 0) return result;
  // The schema checks what a visit needs of a photo count; the rest is as the count wrote it.
  const whole = { ...BARE, ...result } as unknown as CountResult;
  return replay(whole, marks, nameOf) as unknown as PhotoResult;
}
