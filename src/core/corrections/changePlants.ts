import { applyHomography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import { parseLength } from '../units/parseLength.ts';
import type { Check, CorrectedPlant } from './correctedPlant.ts';
import type { Ground } from './ground.ts';
import type { Deed } from './standingChanges.ts';

/** Plants of one photo by their id, and those a person took off. Changed in place while a history is replayed. */
export interface Marks {
  readonly here: Map<string, CorrectedPlant>;
  readonly removed: Map<string, CorrectedPlant>;
}

/** Two plants under one mark are shown this far apart along the row, metres, until somebody moves them. Our own choice. */
export const SPLIT_APART_M = 0.02;
/** Without a scale: this share of the picture's width. */
const SPLIT_APART_SHARE = 0.006;

/** Replays one deed on the marks. A deed about a mark that is not there changes nothing. */
export function changePlants({ here, removed }: Marks, { change, by }: Deed, ground: Ground): void {
  const touch = (plant: CorrectedPlant, did: Check, to: Partial<CorrectedPlant> = {}) => {
    const now = { ...plant, ...to, checked: { by, did } };
    here.set(
      now.id,
      now.kind === 'unsure' ? now : { ...now, confidence: now.kind === 'plant' ? 1 : 0, doubleChance: 0 },
    );
  };
  if (change.kind === 'add plant') {
    const added = here.has(change.plantId) ? null : addedPlant(change, ground);
    if (added !== null) touch(added, 'added');
    return;
  }
  if (change.kind === 'check photo') {
    for (const plant of here.values()) {
      if (plant.inStretch && plant.checked === null && plant.kind !== 'unsure') touch(plant, 'confirmed');
    }
    return;
  }
  const plant = 'plantId' in change ? here.get(change.plantId) : undefined;
  if (plant === undefined) return;
  const take = (gone: CorrectedPlant) => {
    here.delete(gone.id);
    removed.set(gone.id, { ...gone, checked: { by, did: 'removed' } });
  };
  switch (change.kind) {
    case 'confirm plant':
      touch(plant, 'confirmed');
      break;
    case 'remove plant':
      take(plant);
      break;
    case 'name plant':
      // A person who looked and could not tell leaves it even.
      touch(plant, 'named', {
        kind: change.as,
        ...(change.as === 'unsure' ? { confidence: 0.5, doubleChance: 0 } : {}),
      });
      break;
    case 'mark damaged':
      touch(plant, 'damaged', { damaged: change.damaged });
      break;
    case 'move plant':
      touch(plant, 'moved', { xPx: change.xPx, yPx: change.yPx });
      break;
    case 'split plant': {
      here.delete(plant.id);
      const [one, other] = apart(plant, ground);
      touch({ ...plant, ...one, id: `${plant.id}.1`, kind: 'plant' }, 'split');
      touch({ ...plant, ...other, id: `${plant.id}.2`, kind: 'plant' }, 'split');
      break;
    }
    case 'merge plants': {
      const other = here.get(change.otherId);
      if (other === undefined || other === plant) return;
      here.delete(other.id);
      touch(plant, 'merged', {
        ...between(plant, other),
        kind: 'plant',
        damaged: plant.damaged || other.damaged,
      });
    }
  }
}

function addedPlant(change: Deed['change'] & { kind: 'add plant' }, ground: Ground): CorrectedPlant | null {
  const { plantId, along, xPx, yPx } = change;
  const common = {
    id: plantId,
    kind: 'plant',
    inStretch: false,
    confidence: 1,
    doubleChance: 0,
    alongSdMm: null,
    damaged: false,
    checked: null,
    machine: null,
  } as const;
  if (xPx !== undefined && yPx !== undefined) return { ...common, xPx, yPx, alongM: null, acrossM: null };
  const read = parseLength(along ?? '');
  if (!read.ok) return null;
  const [x, y] =
    ground.toPhoto === null
      ? [Number.NaN, Number.NaN]
      : applyHomography(ground.toPhoto, [read.value, ground.rowAcrossM]);
  return { ...common, xPx: x, yPx: y, alongM: read.value, acrossM: ground.rowAcrossM };
}

type Place = Pick<CorrectedPlant, 'xPx' | 'yPx' | 'alongM'>;

/** The two places of a mark that is split: along the row to either side of it. */
function apart({ xPx, yPx, alongM }: CorrectedPlant, { toGround, toPhoto, widthPx }: Ground): readonly [Place, Place] {
  const half = SPLIT_APART_M / 2;
  const byPx = (SPLIT_APART_SHARE / 2) * widthPx;
  const moved = (side: 1 | -1): Place => {
    const along = alongM === null ? null : alongM + side * half;
    if (toGround === null || toPhoto === null) return { xPx: xPx + side * byPx, yPx, alongM: along };
    const [at, across]: Point = applyHomography(toGround, [xPx, yPx]);
    const [x, y] = applyHomography(toPhoto, [at + side * half, across]);
    return { xPx: x, yPx: y, alongM: along };
  };
  return [moved(-1), moved(1)];
}

function between(a: CorrectedPlant, b: CorrectedPlant): Place {
  const alongM = a.alongM === null || b.alongM === null ? null : (a.alongM + b.alongM) / 2;
  return { xPx: (a.xPx + b.xPx) / 2, yPx: (a.yPx + b.yPx) / 2, alongM };
}
