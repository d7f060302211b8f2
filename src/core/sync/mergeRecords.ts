import { canonicalJson } from './canonicalJson.ts';
import type { ChangeRecord } from './changeRecord.ts';
import type { Json } from './json.ts';
import { isElementPath, type Path } from './path.ts';
import { unflatten } from './unflatten.ts';

/** A value at a path that no later record has replaced. */
export interface Head {
  readonly record: string;
  readonly author: string;
  readonly device: string;
  readonly at: string;
  /** Undefined: removed. */
  readonly value: Json | undefined;
  /** The records this one replaced at this path. */
  readonly replaces: readonly string[];
}

/** Two or more people gave one path different values, none having seen the other's. Shown until somebody settles it. */
export interface Conflict {
  readonly path: Path;
  /** The first one stands in the document until the conflict is settled. */
  readonly sides: readonly Head[];
}

/** What all records about one thing add up to. */
export interface MergedThing {
  readonly document: Json;
  /** Every head of every path, the standing one first. */
  readonly heads: ReadonlyMap<Path, readonly Head[]>;
  /** The value of every path that shows in the document, by path. */
  readonly standing: ReadonlyMap<Path, Json>;
  readonly conflicts: readonly Conflict[];
  /** The records that no other one has as a parent: the parents of the next record. */
  readonly frontier: readonly string[];
}

/**
 * Merges the records about one thing. The same set of records gives the same result in any order, each counted once
 * however often it is passed (a multi-value register per path; Shapiro, Preguica, Baquero, Zawirski, "Conflict-free
 * replicated data types", 2011; the record ids that a change replaces stand in for its version vector).
 *
 * Of several heads the standing one is: a value before a removal, then the later clock, then the greater record id.
 * Clocks may be wrong, so the others are never dropped: they are listed in `conflicts`. An element that one person
 * removed while another changed something in it stays whole, and is listed too.
 */
export function mergeRecords(records: readonly ChangeRecord[]): MergedThing {
  const { heads, lastPosition } = headsOf(records);
  const conflicts: Conflict[] = [];
  const standing = new Map<Path, Json>();
  for (const [path, own] of heads) {
    const first = own[0] as Head;
    if (first.value !== undefined) standing.set(path, first.value);
    // Two orders of one list are no disagreement worth a person's time: one of them stands.
    const isOrder = isElementPath(path) && own.every((head) => typeof head.value === 'number');
    if (!isOrder && new Set(own.map(textOf)).size > 1) conflicts.push({ path, sides: own });
  }

  for (const [path, own] of heads) {
    if (!isElementPath(path) || own[0]?.value !== undefined) continue;
    const seen = new Set(own.flatMap((head) => head.replaces));
    const below = [...standing.keys()].filter((p) => p.startsWith(`${path}/`));
    const unseen = below.flatMap((p) => heads.get(p) ?? []).filter((h) => h.value !== undefined && !seen.has(h.record));
    if (unseen.length === 0) {
      for (const p of below) standing.delete(p);
      continue;
    }
    const newest = unseen.sort(standsFirst)[0] as Head;
    const position = lastPosition.get(path);
    if (position !== undefined) standing.set(path, position);
    conflicts.push({ path, sides: [{ ...newest, value: position ?? newest.value }, ...own] });
  }

  const { document, unplaced } = unflatten(standing);
  for (const { path, instead } of unplaced) {
    const below = [...standing.keys()].filter((p) => p.startsWith(`${path}/`));
    const newest = below.map((p) => heads.get(p)?.[0] as Head).sort(standsFirst)[0];
    const own = heads.get(path) ?? [];
    if (newest !== undefined) conflicts.push({ path, sides: [{ ...newest, value: instead }, ...own] });
  }
  conflicts.sort((a, b) => (a.path < b.path ? -1 : 1));
  const parents = new Set(records.flatMap((record) => record.parents));
  const frontier = [...new Set(records.map((record) => record.id))].filter((id) => !parents.has(id)).sort();
  return { document, heads, standing, conflicts, frontier };
}

/** The surviving heads by path, paths in order, and the newest order number ever given to each element. */
function headsOf(records: readonly ChangeRecord[]) {
  const replaced = new Map<Path, Set<string>>();
  const given = new Map<Path, Map<string, Head>>();
  for (const record of records) {
    const { id, author, device, at } = record;
    for (const { path, value, replaces } of record.changes) {
      setDefault(given, path, () => new Map<string, Head>()).set(id, {
        record: id,
        author,
        device,
        at,
        value,
        replaces,
      });
      const gone = setDefault(replaced, path, () => new Set<string>());
      for (const old of replaces) gone.add(old);
    }
  }
  const heads = new Map<Path, readonly Head[]>();
  const lastPosition = new Map<Path, number>();
  for (const path of [...given.keys()].sort()) {
    const gone = replaced.get(path);
    const all = [...(given.get(path) as Map<string, Head>).values()].sort(standsFirst);
    const alive = all.filter((head) => !gone?.has(head.record));
    if (alive.length > 0) heads.set(path, alive);
    const position = all.find((head) => typeof head.value === 'number')?.value;
    if (isElementPath(path) && typeof position === 'number') lastPosition.set(path, position);
  }
  return { heads, lastPosition };
}

function setDefault<K, V>(map: Map<K, V>, key: K, make: () => V): V {
  const found = map.get(key) ?? make();
  map.set(key, found);
  return found;
}

function standsFirst(a: Head, b: Head): number {
  if ((a.value === undefined) !== (b.value === undefined)) return a.value === undefined ? 1 : -1;
  if (a.at !== b.at) return a.at < b.at ? 1 : -1;
  return a.record < b.record ? 1 : a.record > b.record ? -1 : 0;
}

function textOf(head: Head): string {
  return head.value === undefined ? 'removed' : canonicalJson(head.value);
}
