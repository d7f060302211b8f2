import { isJsonObject, type Json } from './json.ts';
import { childPath, type Path, pathSegments } from './path.ts';

/** A value that could not be placed because other values sit below the same path: `{a: 1}` met `{a: {b: 2}}`. */
export interface Unplaced {
  readonly path: Path;
  readonly value: Json;
  /** What stands in the document there instead. */
  readonly instead: Json;
}

interface Node {
  value?: Json;
  readonly keys: Map<string, Node>;
  readonly elements: Map<string, Node>;
}

/**
 * Builds the document back from its separate values (see `flatten`). Merging can leave a value at a path and others
 * below it; the deeper ones are kept, they hold more, and the other is reported. An empty object or list gives way
 * without a report: it says no more than "nothing yet". Elements are in the order of their numbers, then their ids.
 */
export function unflatten(values: ReadonlyMap<Path, Json>): { document: Json; unplaced: readonly Unplaced[] } {
  const root = newNode();
  for (const [path, value] of values) {
    let node = root;
    for (const segment of pathSegments(path)) {
      node = 'element' in segment ? step(node.elements, segment.element) : step(node.keys, segment.key);
    }
    node.value = value;
  }
  const unplaced: Unplaced[] = [];
  const document = build('', root, false, unplaced);
  return { document: document ?? {}, unplaced };
}

function newNode(): Node {
  return { keys: new Map(), elements: new Map() };
}

function step(children: Map<string, Node>, name: string): Node {
  const found = children.get(name) ?? newNode();
  children.set(name, found);
  return found;
}

function build(path: Path, node: Node, isElement: boolean, unplaced: Unplaced[]): Json | undefined {
  const { value } = node;
  const isMark = isElement && (value === undefined || typeof value === 'number');
  if (node.keys.size === 0 && node.elements.size === 0 && !isMark) return value;

  let document: Json;
  if (node.elements.size > 0) {
    document = [...node.elements].sort(byPosition).map(([id, child]) => {
      const built = build(childPath(path, { element: id }), child, true, unplaced);
      return isJsonObject(built) ? { ...built, id } : (built as Json);
    });
    if (node.keys.size > 0) {
      const fields = Object.fromEntries([...node.keys].map(([k, c]) => [k, build(path, c, false, []) as Json]));
      unplaced.push({ path, value: fields, instead: document });
    }
  } else {
    document = Object.fromEntries(
      [...node.keys].map(([key, child]) => [key, build(childPath(path, { key }), child, false, unplaced) as Json]),
    );
  }
  if (value !== undefined && !isMark && !isEmpty(value)) unplaced.push({ path, value, instead: document });
  return document;
}

function byPosition(a: readonly [string, Node], b: readonly [string, Node]): number {
  const p = positionOf(a[1]) - positionOf(b[1]);
  return p !== 0 && !Number.isNaN(p) ? p : a[0] < b[0] ? -1 : 1;
}

function positionOf(node: Node): number {
  return typeof node.value === 'number' ? node.value : Number.POSITIVE_INFINITY;
}

function isEmpty(value: Json): boolean {
  return typeof value === 'object' && value !== null && Object.keys(value).length === 0;
}
