import { useEffect, useMemo, useRef } from 'preact/hooks';
import { good } from '../../core/faults/outcome.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
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

interface Known {
  readonly document: Json;
  readonly read: ReturnType<typeof readVisit>;
}

/**
 * A visit read, by what is known of it: where nothing but a correction came since, the rest is not read again. At every
 * answer to a mark that would be the greatest part of the work. From the disk all is read anew.
 */
function readFrom(known: Known | null, document: Json): Known {
  const before = known?.document;
  if (!known?.read.ok || !isJsonObject(before) || !isJsonObject(document)) {
    return { document, read: readVisit(document) };
  }
  const keys = new Set([...Object.keys(before), ...Object.keys(document)]);
  const isSame = [...keys].every((key) => key === 'corrections' || before[key] === document[key]);
  if (!isSame) return { document, read: readVisit(document) };
  const corrections = document.corrections as unknown as VisitDocument['corrections'];
  return { document, read: good({ ...known.read.value, corrections }) };
}

/** The visit on the page; 'none' when this device does not hold it. Null while it is fetched from the disk. */
export function useVisit(id: string): ShownVisit | 'none' | null {
  useEffect(() => {
    void show('visit', id);
  }, [id]);
  const now = shown.value;
  const document = now?.kind === 'visit' && now.thing === id ? now.document : null;
  const last = useRef<Known | null>(null);
  const read = useMemo(() => {
    last.current = document === null ? null : readFrom(last.current, document);
    return last.current?.read ?? null;
  }, [document]);
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
