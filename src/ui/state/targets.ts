import { computed, signal } from '@preact/signals';
import { type Store, thingKey } from '../../browser/store/storeTypes.ts';
import type { TargetRow } from '../../core/targets/targetRow.ts';
import { TARGET_ROWS } from '../../core/targets/targetRows.ts';
import { readTargets, TARGETS_ID, type TargetsDocument } from '../../core/visit/targetsDocument.ts';

const KEY = thingKey('targets', TARGETS_ID);
const held = signal<TargetsDocument | null>(null);

/** The organisation's own targets as this device knows them; null: the table stands as it is. */
export const ownTargets = computed(() => held.value);

/** The table of targets that this device judges by. */
export const targetTable = computed<readonly TargetRow[]>(() => {
  if (held.value === null) return TARGET_ROWS;
  const read = readTargets(held.value);
  return read.ok ? read.value : TARGET_ROWS;
});

/** Reads them as they stand on this device, what was just entered included. */
export async function loadTargets(store: Store): Promise<void> {
  const [draft, thing] = await Promise.all([store.get('drafts', KEY), store.get('things', KEY)]);
  const document = (draft?.document ?? thing?.document ?? null) as TargetsDocument | null;
  if (JSON.stringify(document) !== JSON.stringify(held.value)) held.value = document;
}

/** Where they were kept before they were records: what waits there still goes the way of all else. */
const OLD_KEY = 'targets';

/** What was entered before targets were records, and was not sent; null: nothing. */
export async function oldTargets(store: Store): Promise<TargetsDocument | null> {
  const old = (await store.get('settings', OLD_KEY)) as { document?: TargetsDocument; waits?: boolean } | undefined;
  return old?.waits === true ? (old.document ?? null) : null;
}

export async function forgetOldTargets(store: Store): Promise<void> {
  await store.delete('settings', OLD_KEY);
}
