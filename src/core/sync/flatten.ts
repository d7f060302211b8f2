import { isJsonObject, type Json, type JsonObject } from './json.ts';
import { childPath, type Path } from './path.ts';

/** The order number an element of a list has now, by the element's path; undefined for a new element. */
export type PositionOf = (path: Path) => number | undefined;

/**
 * A document as separate values, each at its own path, so that two people who change different things never collide.
 * Objects are opened; so are lists whose elements all carry a different string `id`. Any other list is one value, as
 * are empty objects and lists, and any inner object that carries its own `schema` (a machine's count: made at once, never
 * edited in parts). An opened element has at its own path its order number, and no entry for its `id`.
 * `unflatten` is the way back.
 *
 * @param positionOf order numbers already in use. They are kept where they still rise along the list, so that adding
 * an element touches no other.
 */
export function flatten(document: Json, positionOf: PositionOf = () => undefined): ReadonlyMap<Path, Json> {
  const out = new Map<Path, Json>();
  open('', document, positionOf, out);
  return out;
}

function open(path: Path, value: Json, positionOf: PositionOf, out: Map<Path, Json>): void {
  if (path !== '' && isJsonObject(value) && typeof value.schema === 'string') {
    out.set(path, value);
    return;
  }
  if (isJsonObject(value) && Object.keys(value).length > 0) {
    for (const key of Object.keys(value)) open(childPath(path, { key }), value[key] as Json, positionOf, out);
    return;
  }
  if (Array.isArray(value) && hasOwnIds(value)) {
    const paths = value.map((element) => childPath(path, { element: element.id as string }));
    const positions = risingPositions(paths.map(positionOf));
    value.forEach((element, i) => {
      const own = paths[i] as Path;
      out.set(own, positions[i] as number);
      for (const key of Object.keys(element)) {
        if (key !== 'id') open(childPath(own, { key }), element[key] as Json, positionOf, out);
      }
    });
    return;
  }
  out.set(path, value);
}

function hasOwnIds(list: readonly Json[]): list is readonly JsonObject[] {
  const ids = list.map((element) => (isJsonObject(element) ? element.id : undefined));
  return list.length > 0 && ids.every((id) => typeof id === 'string') && new Set(ids).size === ids.length;
}

/** Keeps each known number that is above the one before it; places the others between their neighbours. */
function risingPositions(known: readonly (number | undefined)[]): readonly number[] {
  let before = 0;
  return known.map((own, i) => {
    if (own !== undefined && own > before) {
      before = own;
      return own;
    }
    const low = before;
    const after = known.slice(i + 1).find((p) => p !== undefined && p > low);
    const middle = after === undefined ? Math.floor(low) + 1 : (low + after) / 2;
    // Where no number fits between two neighbours any more, count on: the elements behind are renumbered in turn.
    before = middle > low ? middle : low + 1;
    return before;
  });
}
