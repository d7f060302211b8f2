import { canonicalJson } from './canonicalJson.ts';
import type { PathChange } from './changeRecord.ts';
import { flatten } from './flatten.ts';
import type { Json } from './json.ts';
import type { Conflict, MergedThing } from './mergeRecords.ts';
import { isElementPath, type Path } from './path.ts';

/** A thing that nobody has recorded anything about. */
export const NOTHING_YET: MergedThing = {
  document: {},
  heads: new Map(),
  standing: new Map(),
  conflicts: [],
  frontier: [],
};

/**
 * What must be recorded so that a thing's document becomes `next`: the values that differ, each replacing every head
 * its author could see. Values left alone are not mentioned, so other people's work on them, and their open conflicts,
 * stay. Empty when nothing differs.
 */
export function editThing(now: MergedThing, next: Json): readonly PathChange[] {
  const positionOf = (path: Path): number | undefined => {
    const position = now.standing.get(path);
    return typeof position === 'number' ? position : undefined;
  };
  const wanted = flatten(next, positionOf);
  const changes = new Map<Path, PathChange>();
  for (const [path, value] of wanted) {
    const old = now.standing.get(path);
    if (old !== undefined && canonicalJson(old) === canonicalJson(value)) continue;
    changes.set(path, setPath(now, path, value));
    // An element that comes back must not bring along what it held when it was removed.
    if (isElementPath(path) && old === undefined) {
      const held = [...now.heads].filter(([p, heads]) => p.startsWith(`${path}/`) && heads[0]?.value !== undefined);
      for (const [p] of held) if (!wanted.has(p)) changes.set(p, setPath(now, p));
    }
  }
  const shown = now.standing.size === 0 ? [] : flatten(now.document, positionOf).keys();
  const hidden = [...now.standing]
    .filter(([path, v]) => isEmptyContainer(v) && !hasBelow(wanted, path))
    .map(([path]) => path);
  const removed = [...new Set([...shown, ...hidden])].filter((p) => now.standing.has(p) && !wanted.has(p)).sort();
  let element: Path | null = null;
  for (const path of removed) {
    if (element !== null && path.startsWith(`${element}/`)) continue;
    changes.set(path, setPath(now, path));
    if (isElementPath(path)) element = path;
  }
  return [...changes.values()];
}

/** An empty list shows only while nothing stands below it: it must go when what hid it goes. */
function isEmptyContainer(value: Json): boolean {
  return typeof value === 'object' && value !== null && Object.keys(value).length === 0;
}

function hasBelow(values: ReadonlyMap<Path, Json>, path: Path): boolean {
  return [...values.keys()].some((p) => p.startsWith(`${path}/`));
}

/**
 * Gives one path one value (absent: removes it), replacing all of its heads. Removing an element also names every head
 * inside it as seen, so that only a change its remover did not know of can bring it back.
 */
export function setPath(now: MergedThing, path: Path, value?: Json): PathChange {
  const own = now.heads.get(path) ?? [];
  if (value !== undefined) return { path, value, replaces: own.map((head) => head.record) };
  const inside = isElementPath(path)
    ? [...now.heads].filter(([p]) => p.startsWith(`${path}/`)).flatMap(([, h]) => h)
    : [];
  return { path, replaces: [...new Set([...own, ...inside].map((head) => head.record))] };
}

/** What must be recorded to settle a conflict in favour of one of its sides. */
export function settleConflict(now: MergedThing, conflict: Conflict, side: number): readonly PathChange[] {
  const { path, sides } = conflict;
  const chosen = sides[side];
  if (chosen === undefined) throw new RangeError(`this conflict has sides 0 to ${sides.length - 1}, got ${side}`);
  const below = [...now.standing.keys()].filter((p) => p.startsWith(`${path}/`));
  if (isElementPath(path) || below.length === 0) return [setPath(now, path, chosen.value)];
  // A value met an object or a list at one path: side 0 is the object or list, kept by removing the value.
  if (side === 0) return [setPath(now, path)];
  return [...below.map((p) => setPath(now, p)), setPath(now, path, chosen.value)];
}
