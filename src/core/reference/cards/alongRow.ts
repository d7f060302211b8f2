import { applyHomography, composeHomographies, type Homography, invertHomography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import type { FoundReference } from '../reference.ts';
import { greenPoints } from '../rows/greenPoints.ts';
import { rowDirection } from '../rows/rowDirection.ts';

/** With one card the row is measured so far to either side of it, as far as the photo shows, metres. */
const BESIDE_M = 1;
const STEP_M = 0.02;

/**
 * A lone card's plane turned about its middle so that its axis runs along the rows in the photo, to the right; along
 * the card's own upper edge when no rows are clear. Ends are as far as the photo shows the axis, 1 m to either side at
 * most. A card says nothing of where the rows run, and nobody lays it square to them.
 */
export function alongRow(card: FoundReference, photo: Raster): FoundReference {
  const middlePx = applyHomography(invertHomography(card.photoToGround), [0, 0]);
  const turn = rowDirection(card.photoToGround, middlePx, greenPoints(photo));
  if (turn === null) return withEnds(card, photo, 'its upper edge, for no row is clear');
  const right = aimsRight(card.photoToGround, turn) ? turn : turn + Math.PI;
  const [c, s] = [Math.fround(Math.cos(right)), Math.fround(Math.sin(right))];
  const turned = (map: Homography): Homography => composeHomographies([c, s, 0, -s, c, 0, 0, 0, 1], map);
  const stand = card.camera;
  const camera =
    stand === null
      ? null
      : { ...stand, alongM: c * stand.alongM + s * stand.acrossM, acrossM: c * stand.acrossM - s * stand.alongM };
  const along = {
    ...card,
    photoToGround: turned(card.photoToGround),
    otherPhotoToGround: card.otherPhotoToGround.map(turned),
    camera,
  };
  return withEnds(along, photo, 'the row beside it');
}

function withEnds(card: FoundReference, { widthPx, heightPx }: Raster, along: string): FoundReference {
  const toPhoto = invertHomography(card.photoToGround);
  const shown = ([x, y]: Point): boolean => x >= 0 && y >= 0 && x <= widthPx - 1 && y <= heightPx - 1;
  const reach = (sign: number): number => {
    let m = 0;
    while (m < BESIDE_M && shown(applyHomography(toPhoto, [sign * (m + STEP_M), 0]))) m += STEP_M;
    return sign * m;
  };
  const endsM = [reach(-1), reach(1)] as const;
  const message = `Only one card was seen: lengths are rough and run along ${along}. Show cards 0 and 1.`;
  return {
    ...card,
    endsM,
    endsPx: [applyHomography(toPhoto, [endsM[0], 0]), applyHomography(toPhoto, [endsM[1], 0])],
    warnings: [{ code: 'one-card', message }, ...card.warnings],
  };
}

/** Whether the axis at this turn runs to the right in the photo, or up where it runs upright. */
function aimsRight(map: Homography, turn: number): boolean {
  const toPhoto = invertHomography(map);
  const [x0, y0] = applyHomography(toPhoto, [0, 0]);
  const [x1, y1] = applyHomography(toPhoto, [0.05 * Math.cos(turn), 0.05 * Math.sin(turn)]);
  const length = norm(x1 - x0, y1 - y0);
  return x1 - x0 > 0.2 * length || (x1 - x0 > -0.2 * length && y1 < y0);
}
