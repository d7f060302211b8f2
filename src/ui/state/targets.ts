import { computed, signal } from '@preact/signals';
import type { Store } from '../../browser/store/storeTypes.ts';
import type { TargetRow } from '../../core/targets/targetRow.ts';
import { TARGET_ROWS } from '../../core/targets/targetRows.ts';
import { readTargets, type TargetsDocument } from '../../core/visit/targetsDocument.ts';
import { client } from './server.ts';

interface Held {
  readonly document: TargetsDocument | null;
  /** Changed here and not at the server yet. */
  readonly waits: boolean;
}

const KEY = 'targets';
const held = signal<Held>({ document: null, waits: false });

/** The organisation's own targets as this device knows them; null: the table stands as it is. */
export const ownTargets = computed(() => held.value.document);
export const targetsWait = computed(() => held.value.waits);

/** The table of targets that this device judges by. */
export const targetTable = computed<readonly TargetRow[]>(() => {
  if (held.value.document === null) return TARGET_ROWS;
  const read = readTargets(held.value.document);
  return read.ok ? read.value : TARGET_ROWS;
});

export async function loadTargets(store: Store): Promise<void> {
  const kept = (await store.get('settings', KEY)) as Held | undefined;
  if (kept !== undefined) held.value = kept;
}

async function keep(store: Store, next: Held): Promise<void> {
  held.value = next;
  await store.put('settings', next as never, KEY);
}

export async function changeTargets(store: Store, document: TargetsDocument): Promise<void> {
  await keep(store, { document, waits: true });
  await exchangeTargets(store);
}

/** Sends what was changed here, else takes in what others changed. Without network it waits for the next time. */
export async function exchangeTargets(store: Store): Promise<void> {
  try {
    const { document, waits } = held.value;
    if (waits && document !== null) {
      const answer = await client.api.targets.$post({ json: document as never });
      // Whatever was changed meanwhile goes next time.
      if (answer.ok && held.value.document === document) await keep(store, { document, waits: false });
      return;
    }
    const answer = await client.api.targets.$get();
    if (!answer.ok) return;
    const { targets } = (await answer.json()) as { targets: TargetsDocument | null };
    if (!held.value.waits && JSON.stringify(targets) !== JSON.stringify(document)) {
      await keep(store, { document: targets, waits: false });
    }
  } catch {
    // No network: what is kept here stands.
  }
}
