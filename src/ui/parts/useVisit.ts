import { useEffect, useMemo } from 'preact/hooks';
import { isJsonObject } from '../../core/sync/json.ts';
import type { Conflict } from '../../core/sync/mergeRecords.ts';
import type { Assessment } from '../../core/visit/assessment.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import { readVisit } from '../../core/visit/readVisit.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { show, shown } from '../state/app.ts';
import { targetTable } from '../state/targets.ts';

export interface ShownVisit {
  readonly visit: VisitDocument;
  /** Why the document cannot be assessed as it stands; it is shown and kept all the same. */
  readonly problem: string | null;
  readonly conflicts: readonly Conflict[];
}

/** The visit on the page; 'none' when this device does not hold it. Null while it is fetched from the disk. */
export function useVisit(id: string): ShownVisit | 'none' | null {
  useEffect(() => {
    void show('visit', id);
  }, [id]);
  const now = shown.value;
  const document = now?.kind === 'visit' && now.thing === id ? now.document : null;
  const read = useMemo(() => (document === null ? null : readVisit(document)), [document]);
  if (now === null || document === null || read === null) return null;
  if (!isJsonObject(document) || document.planting === undefined) return 'none';
  const visit = read.ok ? read.value : (document as unknown as VisitDocument);
  return { visit, problem: read.ok ? null : read.found, conflicts: now.conflicts };
}

/** The engine's answer for a visit; null while nothing is counted or where the document cannot be read. */
export function useAssessment(shownVisit: ShownVisit | 'none' | null): Assessment | null {
  const visit = shownVisit === null || shownVisit === 'none' || shownVisit.problem !== null ? null : shownVisit.visit;
  const targets = targetTable.value;
  return useMemo(() => (visit === null ? null : assessVisit(visit, { targets })), [visit, targets]);
}
