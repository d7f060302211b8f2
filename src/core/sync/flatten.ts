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
    const positions = risingPositions(
      value.map((element, i) => ({ id: element.id as string, position: positionOf(paths[i] as Path) })),
    );
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

interface Place {
  readonly id: string;
  readonly position: number | undefined;
}

/**
 * Keeps each known number that comes after the one before it (equal numbers are in the order of their ids, as two
 * people give them who each add an element); places the others between their neighbours.
 */
function risingPositions(places: readonly Place[]): readonly number[] {
  let before = 0;
  let idBefore = '';
  return places.map(({ id, position }, i) => {
    const isBehind = (p: number, of: string) => p > before || (p === before && i > 0 && of > idBefore);
    if (position !== undefined && isBehind(position, id)) {
      before = position;
    } else {
      const low = before;
      const after = places.slice(i + 1).find((place) => place.position !== undefined && place.position > low)?.position;
      const middle = after === undefined ? Math.floor(low) + 1 : (low + after) / 2;
      // Where no number fits between two neighbours any more, count on: the elements behind are renumbered in turn.
      before = middle > low ? middle : low + 1;
    }
    idBefore = id;
    return before;
  });
}
