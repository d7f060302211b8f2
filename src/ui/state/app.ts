import { signal } from '@preact/signals';
import { startAnalysis } from '../../browser/startAnalysis.ts';
import { draftEdit } from '../../browser/store/draftEdit.ts';
import { openStore } from '../../browser/store/openStore.ts';
import type { Actor } from '../../browser/store/recordChanges.ts';
import { settleHere } from '../../browser/store/settleHere.ts';
import { type Row, type Store, thingKey } from '../../browser/store/storeTypes.ts';
import { createQueue, NOT_COUNTED, type Queue, type QueueState } from '../../browser/sync/createQueue.ts';
import type { PathChange, ThingKind } from '../../core/sync/changeRecord.ts';
import { isJsonObject, type Json } from '../../core/sync/json.ts';
import type { Conflict, MergedThing } from '../../core/sync/mergeRecords.ts';
import { NO_TARGETS, TARGETS_ID, type TargetsDocument } from '../../core/visit/targetsDocument.ts';
import { afterFrame } from './afterFrame.ts';
import { plainTrouble } from './plainTrouble.ts';
import { server } from './server.ts';
import { FIRST_SETTINGS, type Settings } from './settings.ts';
import { forgetOldTargets, loadTargets, oldTargets } from './targets.ts';

/** One thing as its page shows it. */
export interface Shown {
  readonly kind: ThingKind;
  readonly thing: string;
  readonly document: Json;
  readonly conflicts: readonly Conflict[];
}

export const ready = signal(false);
export const settings = signal<Settings>(FIRST_SETTINGS);
export const rows = signal<readonly Row[]>([]);
export const shown = signal<Shown | null>(null);
export const queueState = signal<QueueState>(NOT_COUNTED);
/** True once everything that counting needs is kept for use without a network. */
export const offlineReady = signal(false);
/** What went wrong here, in plain words; null when nothing did. */
export const trouble = signal<string | null>(null);

export const analysis = startAnalysis();

let opened: Store | null = null;
let queue: Queue | null = null;
const others = new BroadcastChannel('rowledger');

export function store(): Store {
  if (opened === null) throw new Error('the store is not open yet');
  return opened;
}

export const nowIso = () => new Date().toISOString();
export const newId = () => crypto.randomUUID();
export const actor = (): Actor => ({ author: settings.value.name || 'unnamed', now: nowIso, newId });

export async function boot(): Promise<void> {
  opened = await openStore();
  settings.value = {
    ...FIRST_SETTINGS,
    ...((await opened.get('settings', 'person')) as Partial<Settings> | undefined),
  };
  await reloadRows();
  ready.value = true;
  queue = createQueue(
    opened,
    actor,
    server,
    (state) => {
      queueState.value = state;
    },
    reload,
  );
  others.onmessage = () => {
    queue?.soon();
    void reload();
  };
  const old = await oldTargets(opened);
  if (old === null || (await changeTargets(() => old))) await forgetOldTargets(opened);
}

export async function saveSettings(change: Partial<Settings>): Promise<void> {
  settings.value = { ...settings.value, ...change };
  await guarded(() => store().put('settings', { ...settings.value } as Json, 'person'));
}

export const sendNow = () => queue?.now();

/** Steps that are on the page and not yet on the disk. */
export const pending = signal(0);

export async function reloadRows(): Promise<void> {
  rows.value = await store().getAll('rows');
  await loadTargets(store());
}

async function reload(): Promise<void> {
  await reloadRows();
  const now = shown.value;
  if (now !== null && pending.value === 0) await show(now.kind, now.thing);
}

/** Puts one thing on the page, drafts included. */
export async function show(kind: ThingKind, thing: string): Promise<void> {
  const key = thingKey(kind, thing);
  const [draft, held] = await Promise.all([store().get('drafts', key), store().get('things', key)]);
  if (pending.value > 0 && shown.value?.thing === thing) return;
  if (draft === undefined && held === undefined) {
    shown.value = { kind, thing, document: {}, conflicts: [] };
    return;
  }
  const document = draft?.document ?? held?.document ?? {};
  shown.value = { kind, thing, document, conflicts: held?.conflicts ?? [] };
}

/** Changes a thing: on the page at once, on the disk as fast as it goes. True when it is kept. */
export async function edit(kind: ThingKind, thing: string, change: (document: Json) => Json): Promise<boolean> {
  const on = shown.value;
  if (on !== null && on.kind === kind && on.thing === thing) shown.value = { ...on, document: change(on.document) };
  pending.value++;
  const kept = await entered(() => write(kind, thing, change));
  pending.value--;
  if (!kept) await reload();
  if (pending.value === 0) {
    await reloadRows();
    others.postMessage('changed');
  }
  return kept;
}

/** Changes the organisation's own targets. True when it is kept. */
export function changeTargets(change: (now: TargetsDocument) => TargetsDocument): Promise<boolean> {
  return edit('targets', TARGETS_ID, (document) => {
    const now = isJsonObject(document) && 'schema' in document ? (document as unknown as TargetsDocument) : NO_TARGETS;
    return change(now) as unknown as Json;
  });
}

type Change = (document: Json) => Json;
/** Steps of one thing that wait for the disk to finish the ones before: they go down together. */
const next = new Map<string, { changes: Change[]; done: Promise<void> }>();
const writing = new Map<string, Promise<unknown>>();

function write(kind: ThingKind, thing: string, change: Change): Promise<void> {
  const key = thingKey(kind, thing);
  const waiting = next.get(key);
  if (waiting !== undefined) {
    waiting.changes.push(change);
    return waiting.done;
  }
  const changes = [change];
  const before = writing.get(key) ?? Promise.resolve();
  const done = before
    .catch(() => undefined)
    .then(async () => {
      await afterFrame();
      next.delete(key);
      await draftEdit(store(), kind, thing, nowIso(), (document) => changes.reduce((now, one) => one(now), document));
    });
  next.set(key, { changes, done });
  writing.set(key, done);
  return done;
}

/** Records chosen changes at once. */
export async function settle(
  kind: ThingKind,
  thing: string,
  changesFrom: (now: MergedThing) => readonly PathChange[],
): Promise<void> {
  await entered(() => settleHere(store(), actor(), kind, thing, changesFrom));
  await reload();
  others.postMessage('changed');
}

/** Runs what writes something that the server is to have; the queue knows of it from the start. True when it is kept. */
export async function entered(write: () => Promise<unknown>): Promise<boolean> {
  const written = queue?.writing();
  const kept = await guarded(write);
  written?.();
  return kept;
}

/** Runs what writes to the device; says in plain words when it cannot. */
export async function guarded(write: () => Promise<unknown>): Promise<boolean> {
  try {
    await write();
    trouble.value = null;
    return true;
  } catch (error) {
    trouble.value = plainTrouble(error);
    return false;
  }
}
