import { signal } from '@preact/signals';
import { learnFromPhotos } from '../../browser/learnFromPhotos.ts';
import type { Head } from '../../core/learning/head.ts';
import { adoptHead, type ChangeOfUse, useHead } from '../../core/learning/headShelf.ts';
import { writeHeads } from '../../core/learning/headsDocument.ts';
import type { LearningSet } from '../../core/learning/learningSet.ts';
import type { StockMarks } from '../../core/learning/stockMarks.ts';
import type { Json } from '../../core/sync/json.ts';
import type { LearningReply } from '../../worker/learningApi.ts';
import { personId } from '../edits/visitEdits.ts';
import { edit, newId, nowIso, settings } from '../state/app.ts';
import { shelfIn } from './headOfFarm.ts';

/** The same photos give the same head. */
const SEED = 1;

/** What learning came to, by farm; `running` while a thread is at it, whatever page is open meanwhile. */
export const lessons = signal<ReadonlyMap<string, LearningReply | 'running'>>(new Map());

function put(farm: string, lesson: LearningReply | 'running'): void {
  lessons.value = new Map([...lessons.value, [farm, lesson]]);
}

export async function startLearning(farm: string, set: LearningSet, stock: StockMarks['detector']): Promise<void> {
  if (lessons.value.get(farm) === 'running') return;
  put(farm, 'running');
  put(farm, await learnFromPhotos({ set, seed: SEED, about: { trainedAt: nowIso(), stock } }));
}

/** Takes a new head into use for this farm's next counts; earlier counts stay as they are. */
export const takeHead = (farm: string, head: Head) =>
  edit('heads', farm, (document) => changed(document, (shelf, by) => adoptHead(shelf, head, by)));

/** Puts an earlier head, or with null the stock detector, into use. */
export const putIntoUse = (farm: string, id: string | null) =>
  edit('heads', farm, (document) => changed(document, (shelf, by) => useHead(shelf, id, by)));

type Shelf = Parameters<typeof adoptHead>[0];

function changed(document: Json, change: (shelf: Shelf, by: ChangeOfUse) => Shelf): Json {
  const shelf = shelfIn(document);
  // What cannot be read is never written over.
  if (!shelf.ok) return document;
  const by = { id: newId(), at: nowIso(), by: personId(settings.value.name) };
  return writeHeads(change(shelf.value, by)) as unknown as Json;
}
