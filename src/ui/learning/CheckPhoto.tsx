import { standingChanges } from '../../core/corrections/standingChanges.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { addCorrection } from '../edits/visitEdits.ts';
import { momentText } from '../parts/momentText.ts';
import { edit, newId, nowIso, settings } from '../state/app.ts';

interface CheckPhotoProps {
  readonly visit: VisitDocument;
  readonly countId: string;
  /** Somebody has touched each mark: then there is nothing to say. */
  readonly isDone: boolean;
}

/** Says that every mark of a counted photo was looked at, by whom and when; can be taken back. */
export function CheckPhoto({ visit, countId, isDone }: CheckPhotoProps) {
  const own = (visit.corrections ?? []).filter((one) => one.countId === countId);
  const checked = standingChanges(own).standing.findLast(({ change }) => change.kind === 'check photo');
  const record = (change: Parameters<typeof addCorrection>[4]) =>
    void edit('visit', visit.id, addCorrection(newId(), settings.value.name, nowIso(), countId, change, undefined));
  if (checked === undefined && isDone) return null;
  if (checked === undefined) {
    return (
      <button type="button" onClick={() => record({ kind: 'check photo' })}>
        I looked at every mark
      </button>
    );
  }
  const name = visit.people.find((person) => person.id === checked.by)?.name ?? checked.by;
  return (
    <button type="button" onClick={() => record({ kind: 'undo', correctionId: checked.id })}>
      Every mark looked at by {name}, {momentText(checked.at)}. Take back
    </button>
  );
}
