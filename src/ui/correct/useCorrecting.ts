import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Correction, PhotoChange } from '../../core/corrections/correction.ts';
import { describeChange } from '../../core/corrections/describeChange.ts';
import { type CorrectedResult, replay } from '../../core/corrections/replay.ts';
import { questions, SURE } from '../../core/corrections/reviewOrder.ts';
import { type Deed, nextRedo, nextUndo, type Step, standingChanges } from '../../core/corrections/standingChanges.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { type Mark, marksOf, placeName } from './marks.ts';

export interface Correcting {
  /** As it stands, with what is being dragged right now. */
  readonly shown: CorrectedResult;
  readonly marks: readonly Mark[];
  /** Ids of the marks still to be asked about, first first. */
  readonly asking: readonly string[];
  /** How many of them may well change the count. */
  readonly unsure: number;
  /** Those of them that can change the verdict, or put the stand on one side of the floor while there is none. */
  readonly deciding: ReadonlySet<string>;
  readonly undo: (Step & { readonly name: string }) | null;
  readonly redo: (Step & { readonly name: string }) | null;
  /** Shows a change without making it; null ends that. */
  readonly preview: (change: PhotoChange | null) => void;
}

interface Asked {
  readonly result: CountResult;
  readonly corrections: readonly Correction[];
  readonly by: string;
  readonly people: readonly { readonly id: string; readonly name: string }[];
  readonly system: LengthSystem;
  readonly floorPerM2: number | null;
  readonly decides: boolean | null;
}

/** Later than any record, so that a change in the making is on top. */
const IN_THE_MAKING = '9999-12-31T00:00:00Z';

/** What the correcting view knows of a photo: all worked out from the records at every change. */
export function useCorrecting({ result, corrections, by, people, system, floorPerM2, decides }: Asked): Correcting {
  const [previewed, preview] = useState<PhotoChange | null>(null);
  // A change that has become a record is no longer in the making.
  const records = useRef(corrections);
  const fresh = records.current !== corrections;
  records.current = corrections;
  useEffect(() => preview(null), [corrections]);
  const making = fresh ? null : previewed;

  const nameOf = useMemo(() => {
    const names = new Map(people.map(({ id, name }) => [id, name]));
    return (id: string) => names.get(id) ?? id;
  }, [people]);
  const corrected = useMemo(() => replay(result, corrections, nameOf), [result, corrections, nameOf]);
  const shown = useMemo(() => {
    if (making === null) return corrected;
    return replay(result, [...corrections, { id: 'in the making', at: IN_THE_MAKING, by, change: making }], nameOf);
  }, [corrected, making]);
  const marks = useMemo(() => marksOf(shown, by, system), [shown, by, system]);
  const asked = useMemo(() => {
    const all = questions(corrected, floorPerM2, decides);
    if (corrected.stretch !== null) return all;
    // Without a length only the middle row is counted; nobody is asked about the hundreds that stand beside it.
    const inRow = new Set(corrected.plants.flatMap((plant) => (plant.inStretch ? plant.id : [])));
    return all.filter(({ plantId }) => inRow.has(plantId));
  }, [corrected, floorPerM2, decides]);
  const history = useMemo(() => standingChanges(corrections), [corrections]);
  const named = (step: Step | null) =>
    step === null ? null : { ...step, name: describeChange(step.deed, system, (id) => placeOf(id, step.deed)) };
  const placeOf = (id: string, deed: Deed): string => {
    const known = [...corrected.plants, ...corrected.removed, ...result.plants].find((plant) => plant.id === id);
    const before = known ?? replay(result, [...history.standing, deed]).plants.find((plant) => plant.id === id);
    return before === undefined ? '' : placeName(before, system);
  };
  return {
    shown,
    marks,
    asking: asked.map((question) => question.plantId),
    unsure: asked.filter((question) => question.doubt > SURE).length,
    deciding: new Set(asked.filter((question) => question.decides).map((question) => question.plantId)),
    undo: named(nextUndo(history)),
    redo: named(nextRedo(history)),
    preview,
  };
}
