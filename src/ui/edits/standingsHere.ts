import { signal } from '@preact/signals';
import { thingKey } from '../../browser/store/storeTypes.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import { readVisit } from '../../core/visit/readVisit.ts';
import { store } from '../state/app.ts';
import { ownTargets, targetTable } from '../state/targets.ts';
import type { VisitLine } from './visitList.ts';

/** What a visit is filed under; 'none': it cannot be assessed as it stands. */
export type FiledVerdict = 'keep' | 'wait' | 'cost replant' | 'too few spots' | 'none';

interface Filed {
  readonly updatedAt: string;
  readonly verdict: FiledVerdict;
}

/** Verdicts worked out on this device, by visit, each for the state the visit had then. */
const filed = signal<ReadonlyMap<string, Filed>>(new Map());

const AT_ONCE_MS = 12;
const KEPT = 'verdicts';
let running = 0;
let isRead = false;
/** The organisation's targets that the filed verdicts were made with. */
let madeWith = '';
const targetsNow = () => JSON.stringify(ownTargets.value);

export function verdictHere(line: Pick<VisitLine, 'id' | 'updatedAt'>): FiledVerdict | null {
  const found = filed.value.get(line.id);
  return found?.updatedAt === line.updatedAt ? found.verdict : null;
}

/**
 * Works out the verdicts of these visits that are not known yet, in slices so short that the page stays quick, and
 * keeps them on the device. A later call takes the place of a running one.
 */
export async function fileVerdicts(lines: readonly VisitLine[]): Promise<void> {
  const run = ++running;
  if (!isRead) {
    const kept = await store().get('settings', KEPT);
    if (isJsonObject(kept) && isJsonObject(kept.verdicts)) {
      madeWith = String(kept.targets);
      filed.value = new Map(Object.entries(kept.verdicts) as unknown as [string, Filed][]);
    }
    isRead = true;
  }
  if (madeWith !== targetsNow()) {
    madeWith = targetsNow();
    filed.value = new Map();
  }
  const missing = lines.filter((line) => verdictHere(line) === null);
  if (missing.length === 0 || run !== running) return;
  const found = new Map(filed.value);
  let began = performance.now();
  for (const line of missing) {
    found.set(line.id, { updatedAt: line.updatedAt, verdict: await verdictOf(line.id) });
    if (performance.now() - began < AT_ONCE_MS) continue;
    filed.value = new Map(found);
    await new Promise((resolve) => setTimeout(resolve));
    if (run !== running) return;
    began = performance.now();
  }
  filed.value = found;
  await store().put('settings', { targets: madeWith, verdicts: Object.fromEntries(found) } as never, KEPT);
}

async function verdictOf(id: string): Promise<FiledVerdict> {
  const key = thingKey('visit', id);
  const held = (await store().get('drafts', key)) ?? (await store().get('things', key));
  const read = readVisit(held?.document ?? null);
  if (!read.ok) return 'none';
  try {
    return assessVisit(read.value, { targets: targetTable.value }).decision.verdict.kind;
  } catch {
    return 'none';
  }
}
