import { signal } from '@preact/signals';
import { thingKey } from '../../browser/store/storeTypes.ts';
import type { Verdict } from '../../core/decision/verdict.ts';
import { formatDay } from '../../core/outlook/calendar.ts';
import { isJsonObject } from '../../core/sync/json.ts';
import { assessVisit } from '../../core/visit/assessVisit.ts';
import { phrasingFor } from '../../core/visit/phrasing.ts';
import { readVisit } from '../../core/visit/readVisit.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';
import { store } from '../state/app.ts';
import { ownTargets, targetTable } from '../state/targets.ts';
import type { VisitLine } from './visitList.ts';

/** What a visit is filed under; 'none': it cannot be assessed as it stands. */
export type FiledVerdict = 'keep' | 'wait' | 'cost replant' | 'too few spots' | 'none';

type Choice = NonNullable<VisitDocument['decisions']>[number]['choice'];

/** Where a visit stands, as lists show it. */
export interface Standing {
  readonly verdict: FiledVerdict;
  /** What stands, or of it what is likely to live, as text; null where nothing usable was counted. */
  readonly plants: string | null;
  /** The same as a share of the target. */
  readonly ofTarget: number | null;
  /** What is to be done next and by when, where the verdict says so. */
  readonly next: string | null;
  /** What somebody decided last; null while nobody did. */
  readonly decided: Choice | null;
}

interface Filed extends Standing {
  readonly updatedAt: string;
}

type Visit = Pick<VisitLine, 'id' | 'updatedAt'>;

/** Standings worked out on this device, by visit, each for the state the visit had then. */
const filed = signal<ReadonlyMap<string, Filed>>(new Map());

const AT_ONCE_MS = 12;
const KEPT = 'standings';
let running = 0;
let isRead = false;
/** The organisation's targets that the filed standings were made with. */
let madeWith = '';
const targetsNow = () => JSON.stringify(ownTargets.value);

/** Null while it is not worked out yet. */
export function standingHere(visit: Visit): Standing | null {
  const found = filed.value.get(visit.id);
  return found?.updatedAt === visit.updatedAt ? found : null;
}

/**
 * Works out the standings of these visits that are not known yet, in slices so short that the page stays quick, and
 * keeps them on the device. A later call takes the place of a running one.
 */
export async function fileStandings(visits: readonly Visit[]): Promise<void> {
  const run = ++running;
  if (!isRead) {
    const kept = await store().get('settings', KEPT);
    if (isJsonObject(kept) && isJsonObject(kept.standings)) {
      madeWith = String(kept.targets);
      filed.value = new Map(Object.entries(kept.standings) as unknown as [string, Filed][]);
    }
    isRead = true;
  }
  if (madeWith !== targetsNow()) {
    madeWith = targetsNow();
    filed.value = new Map();
  }
  const missing = visits.filter((visit) => standingHere(visit) === null);
  if (missing.length === 0 || run !== running) return;
  const found = new Map(filed.value);
  let began = performance.now();
  for (const { id, updatedAt } of missing) {
    found.set(id, { updatedAt, ...(await standingOf(id)) });
    if (performance.now() - began < AT_ONCE_MS) continue;
    filed.value = new Map(found);
    await new Promise((resolve) => setTimeout(resolve));
    if (run !== running) return;
    began = performance.now();
  }
  filed.value = found;
  await store().put('settings', { targets: madeWith, standings: Object.fromEntries(found) } as never, KEPT);
}

async function standingOf(id: string): Promise<Standing> {
  const key = thingKey('visit', id);
  const held = (await store().get('drafts', key)) ?? (await store().get('things', key));
  const read = readVisit(held?.document ?? null);
  const decided = read.ok ? (read.value.decisions?.at(-1)?.choice ?? null) : null;
  const unknown: Standing = { verdict: 'none', plants: null, ofTarget: null, next: null, decided };
  if (!read.ok) return unknown;
  try {
    const { decision, stand, viable, target } = assessVisit(read.value, { targets: targetTable.value });
    const verdict = decision.verdict.kind;
    const counted = viable ?? stand;
    const next = nextOf(decision.verdict);
    if (counted === null) return { ...unknown, verdict, next };
    const plants = phrasingFor(read.value.units, null).plants(counted.perM2);
    return { verdict, plants, ofTarget: counted.perM2 / target.perM2, next, decided };
  } catch {
    return unknown;
  }
}

function nextOf(verdict: Verdict): string | null {
  if (verdict.kind === 'wait') return `recount by ${formatDay(verdict.recountBy)}`;
  if (verdict.kind === 'too few spots') return verdict.moreSpots < 1 ? null : `count ${verdict.moreSpots} more`;
  return verdict.kind === 'cost replant' && verdict.scope === 'zones' ? `on ${verdict.zones.join(', ')}` : null;
}
