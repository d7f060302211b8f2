import type { Correction, PhotoChange } from './correction.ts';

/** What a person did, not what they took back or brought back. */
export interface Deed extends Correction {
  readonly change: Exclude<Correction['change'], { kind: 'undo' | 'redo' }>;
}

export interface History {
  /** Deeds that stand, oldest first. */
  readonly standing: readonly Deed[];
  /** Deeds taken back and not followed by a new one; the next to bring back is last. */
  readonly takenBack: readonly Deed[];
}

/**
 * Works out which corrections stand. Records are taken by time, those of one moment as they lie in the list. Undo and
 * redo name the record they are about and count as later than it even where a clock ran behind; one that names nothing
 * known changes nothing. Only the order of the records is looked at, so histories of several people can be replayed.
 */
export function standingChanges(corrections: readonly Correction[]): History {
  const ordered = inOrder(corrections);
  const rank = new Map(ordered.map(({ id }, i) => [id, i]));
  const standing = new Set<Deed>();
  const takenBack = new Set<Deed>();
  const deeds = new Map<string, Deed>();
  const fallen = new Set<Deed>();
  for (const record of ordered) {
    const { change } = record;
    if (change.kind !== 'undo' && change.kind !== 'redo') {
      const deed = record as Deed;
      deeds.set(deed.id, deed);
      standing.add(deed);
      takenBack.clear();
      continue;
    }
    const deed = deeds.get(change.correctionId);
    if (deed === undefined) continue;
    if (change.kind === 'undo' && standing.delete(deed)) {
      takenBack.add(deed);
      fallen.add(deed);
    } else if (change.kind === 'redo' && fallen.delete(deed)) {
      takenBack.delete(deed);
      standing.add(deed);
    }
  }
  // A deed brought back stands where it stood: in the order in which things were done.
  const byRank = [...standing].sort((a, b) => rank.get(a.id)! - rank.get(b.id)!);
  return { standing: byRank, takenBack: [...takenBack] };
}

/** A step that can be taken next, with the deed it is about. */
export interface Step {
  readonly change: PhotoChange;
  readonly deed: Deed;
}

/** The record that would take back the last deed that stands; null when there is none. */
export function nextUndo({ standing }: History): Step | null {
  const deed = standing.at(-1);
  return deed === undefined ? null : { change: { kind: 'undo', correctionId: deed.id }, deed };
}

/** The record that would bring back the deed taken back last; null when there is none. */
export function nextRedo({ takenBack }: History): Step | null {
  const deed = takenBack.at(-1);
  return deed === undefined ? null : { change: { kind: 'redo', correctionId: deed.id }, deed };
}

function inOrder(corrections: readonly Correction[]): readonly Correction[] {
  const keys = new Map(corrections.map(({ id, at }, place) => [id, { moment: Date.parse(at), place }]));
  const keyed = corrections.map((record, place) => {
    const own = keys.get(record.id)!;
    const { change } = record;
    const target = change.kind === 'undo' || change.kind === 'redo' ? keys.get(change.correctionId) : undefined;
    if (target === undefined) return { record, moment: own.moment, place };
    return { record, moment: Math.max(own.moment, target.moment), place: Math.max(place, target.place + 0.5) };
  });
  return keyed.sort((a, b) => a.moment - b.moment || a.place - b.place).map(({ record }) => record);
}
