import type { CountedPlant, CountResult } from '../count/countResult.ts';
import { applyHomography } from '../geometry/homography.ts';
import { norm } from '../geometry/norm.ts';
import type { Correction, PhotoChange } from './correction.ts';
import { type Deed, standingChanges } from './standingChanges.ts';

/** Two counts of one photo mean the same plant within so much soil: closer stems are one mark. Our own choice. */
const SAME_PLACE_M = 0.02;
/** The same without a scale: share of the photo's width. */
const SAME_PLACE_SHARE = 0.006;

export interface CarriedOver {
  /** What to record against the new count, in order, each with whose it is. */
  readonly changes: readonly { readonly by: string; readonly change: PhotoChange }[];
  /** What has no place in the new count, such as a reading moved: it stays with the old one, to be looked at. */
  readonly left: readonly Deed[];
}

/**
 * What people said against one count of a photo, said against another count of the same photo. Marks are the same where
 * they lie at the same place and each is the other's nearest. Where a person saw a plant and the new count has no mark,
 * the plant is added; where they saw none and it has none either, nothing is left to say. Nothing given is changed.
 */
export function carryOver(before: CountResult, corrections: readonly Correction[], after: CountResult): CarriedOver {
  const old = new Map(before.plants.map((plant) => [plant.id, plant]));
  const fresh = new Map(after.plants.map((plant) => [plant.id, plant]));
  const apart = apartOn(after);
  /** The new count's name of an old mark, or of one that a person made. */
  const names = new Map(samePlants(before.plants, after.plants, apart));
  const taken = new Set(names.values());
  const changes: CarriedOver['changes'][number][] = [];
  const left: Deed[] = [];
  for (const deed of standingChanges(corrections).standing) {
    const { by, change } = deed;
    const put = (made: PhotoChange) => changes.push({ by, change: made });
    if (change.kind === 'add plant') {
      const place = placeOf(change);
      if (place === null) {
        left.push(deed);
        continue;
      }
      const found = nearest(place, after.plants, apart);
      if (found === null || taken.has(found.id)) {
        names.set(change.plantId, change.plantId);
        put(change);
      } else {
        taken.add(found.id);
        names.set(change.plantId, found.id);
        put(said(found.id, found.kind, 'plant'));
      }
      continue;
    }
    if (!('plantId' in change)) {
      left.push(deed);
      continue;
    }
    const name = renamed(change.plantId, names);
    const mark = old.get(change.plantId);
    if (name === null) {
      const place = change.kind === 'move plant' ? change : mark;
      const isOther = change.kind === 'merge plants' && renamed(change.otherId, names) !== null;
      if (!meansPlant(change, mark) || isOther || place === undefined) continue;
      const added = `kept-${change.plantId}`;
      names.set(change.plantId, added);
      put({ kind: 'add plant', plantId: added, xPx: place.xPx, yPx: place.yPx });
      if (change.kind === 'mark damaged' || change.kind === 'split plant') put({ ...change, plantId: added });
      continue;
    }
    if (change.kind === 'merge plants') {
      const other = renamed(change.otherId, names);
      // One mark already is one plant.
      if (other !== null) put({ ...change, plantId: name, otherId: other });
    } else if (change.kind === 'confirm plant' && mark !== undefined) {
      put(said(name, fresh.get(name)?.kind ?? mark.kind, mark.kind));
    } else {
      put({ ...change, plantId: name });
    }
  }
  return { changes, left };
}

type Place = Pick<CountedPlant, 'xPx' | 'yPx'>;
/** How far apart two photo pixels lie, as a share of what still is the same place. */
type Apart = (a: Place, b: Place) => number;

function apartOn({ reference, photo }: CountResult): Apart {
  const toGround = reference.photoToGround;
  if (toGround === null) {
    return (a, b) => norm(a.xPx - b.xPx, a.yPx - b.yPx) / (SAME_PLACE_SHARE * photo.widthPx);
  }
  return (a, b) => {
    const [ax, ay] = applyHomography(toGround, [a.xPx, a.yPx]);
    const [bx, by] = applyHomography(toGround, [b.xPx, b.yPx]);
    return norm(ax - bx, ay - by) / SAME_PLACE_M;
  };
}

function nearest<T extends Place>(to: Place, plants: readonly T[], apart: Apart): T | null {
  let [best, least]: [T | null, number] = [null, 1];
  for (const plant of plants) {
    const away = apart(to, plant);
    if (away <= least) [best, least] = [plant, away];
  }
  return best;
}

function samePlants(before: readonly CountedPlant[], after: readonly CountedPlant[], apart: Apart) {
  return before.flatMap((plant): [string, string][] => {
    const there = nearest(plant, after, apart);
    return there !== null && nearest(there, before, apart) === plant ? [[plant.id, there.id]] : [];
  });
}

/** The new name of a mark, of one that a person added, or of half of a mark that was split; null: it has none. */
function renamed(id: string, names: ReadonlyMap<string, string>): string | null {
  const known = names.get(id);
  if (known !== undefined) return known;
  const [, whole, half] = /^(.+)(\.[12])$/.exec(id) ?? [];
  const name = whole === undefined ? null : renamed(whole, names);
  return name === null ? null : `${name}${half}`;
}

/** That a mark is of a kind: kept where the machine says so too, else named. */
function said(plantId: string, machine: CountedPlant['kind'], kind: CountedPlant['kind']): PhotoChange {
  return machine === kind ? { kind: 'confirm plant', plantId } : { kind: 'name plant', plantId, as: kind };
}

/** Whether somebody who said this saw a crop plant there. */
function meansPlant(change: PhotoChange, mark: CountedPlant | undefined): boolean {
  switch (change.kind) {
    case 'confirm plant':
    case 'mark damaged':
    case 'move plant':
      return mark === undefined || mark.kind === 'plant';
    case 'name plant':
      return change.as === 'plant';
    case 'split plant':
    case 'merge plants':
      return true;
    default:
      return false;
  }
}

function placeOf({ xPx, yPx }: { readonly xPx?: number | undefined; readonly yPx?: number | undefined }): Place | null {
  return xPx === undefined || yPx === undefined ? null : { xPx, yPx };
}
