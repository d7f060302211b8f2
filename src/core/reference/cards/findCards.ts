import { groundToPhoto, middleOf } from '../../geometry/camera.ts';
import { applyHomography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { cameraCuesTold } from '../plane/cameraCuesTold.ts';
import { likelyFocalPx, likelyViews } from '../plane/likelyViews.ts';
import { alongErrorMm, planeFromPoses, type SoilPlane } from '../plane/planeFromPoses.ts';
import { planeWarnings } from '../plane/planeWarnings.ts';
import { RESTING_HEIGHT } from '../plane/restingHeight.ts';
import { solvePose } from '../plane/solvePose.ts';
import type { CameraCues, FoundReference, NoReference, Warning } from '../reference.ts';
import { alongRow } from './alongRow.ts';
import { type CardsProblem, cardsProblem } from './cardsProblem.ts';
import { detectMarkers } from './detectMarkers.ts';
import { type RefinedMarker, refineCorners } from './refineCorners.ts';

/** Paper stretches and printers scale by about so much even at "100 %"; common practice, no source. */
const PRINT_SD = 0.0015;
/** Half of the longer sheet's sides: what a card may cover around its middle, metres. */
const SHEET_HALF_M: readonly [number, number] = [0.108, 0.149];
/** With one card the error of lengths is told for so far to either side of it, metres. */
const BESIDE_ONE_CARD_M = 1;
const LEAST_STRETCH_M = 0.2;
/** Leaving the file's focal length must mend the squared misfit by so much (3.5 sd) before it is mistrusted. */
const FOCAL_OFF = 12;

/**
 * Finds printed marker cards and the soil plane they lie on. Two or more give zero at the middle of card 0 (else the
 * lowest number) and the axis towards card 1 (else the highest); how far apart they lie is measured from their known
 * size. One card gives a rough plane, an axis along the rows and a warning.
 */
export function findCards(photo: Raster, cues: CameraCues): FoundReference | NoReference {
  const seen = detectMarkers(photo);
  const twice = seen.find((marker, i) => seen.findIndex((other) => other.id === marker.id) !== i);
  if (twice !== undefined) {
    return none(`card ${twice.id} is in the photo twice: lay each number once, 0 at the start and 1 at the end`);
  }
  const cards = seen.flatMap((marker) => refineCorners(photo, marker) ?? []).sort((a, b) => order(a.id) - order(b.id));
  if (cards.length === 0) {
    return none(
      seen.length > 0
        ? 'a marker card was seen, but the edges of its black square are covered or blurred: clear its edges and hold still'
        : 'no marker card was seen: show cards 0 and 1 whole, flat, sharp and not in glare, their black squares at least 40 pixels high',
    );
  }
  const found = solveCards(cards, cues, photo.widthPx, photo.heightPx);
  if (found.kind === 'none' || cards.length > 1) return found;
  const alone = alongRow(found, photo);
  return alone.endsM[1] - alone.endsM[0] > LEAST_STRETCH_M
    ? alone
    : none(`only card ${cards[0]!.id} was seen, at the edge of the photo: show cards 0 and 1 whole`);
}

/** The soil plane under cards whose corners are known; one alone has its axis along its upper edge. */
export function solveCards(
  cards: readonly RefinedMarker[],
  cues: CameraCues,
  widthPx: number,
  heightPx: number,
): FoundReference | NoReference {
  const warnings: Warning[] = [];
  const single = cards.length === 1;
  const middlePx = middleOf(widthPx, heightPx);
  const solve = (used: CameraCues, inflate: number): { problem: CardsProblem; plane: SoilPlane | null } => {
    const problem = cardsProblem(cards, likelyFocalPx(used, widthPx, heightPx), middlePx, inflate);
    const views = likelyViews(used, widthPx, heightPx, single);
    const poses = views.flatMap((view) => solvePose(problem, view));
    return { problem, plane: planeFromPoses(poses, RESTING_HEIGHT.cards) };
  };
  let used = cues;
  let { problem, plane } = solve(used, 1);
  // Measurements (corners, leans, lifts, focal length, ends of the axis) less unknowns.
  const spare = 5 * cards.length - 3;
  if (plane !== null && !single && cues.focalPx !== null && cost(plane) > spare) {
    const loose = solve({ ...cues, focalPx: null }, 1);
    if (loose.plane !== null && cost(plane) - cost(loose.plane) > FOCAL_OFF) {
      ({ problem, plane } = loose);
      used = { ...cues, focalPx: null };
      warnings.push({
        code: 'focal-contradicts',
        message: 'The focal length in the file does not fit the cards (a cropped picture?): it was not used.',
      });
    }
  }
  if (plane !== null && cost(plane) > spare) {
    const misfit = Math.sqrt(cost(plane) / spare);
    if (misfit > 4) {
      warnings.push({
        code: 'cards-uneven',
        message: 'The cards fit one flat soil only roughly: lay them flat, on level soil, unbent.',
      });
    }
    ({ problem, plane } = solve(used, misfit));
  }
  if (plane === null || plane.otherPhotoToGround.length === 0) {
    return none('the cards fit no camera over one flat soil: lay them flat and unbent, and print them at 100 %');
  }
  const endsM = single
    ? ([-BESIDE_ONE_CARD_M, BESIDE_ONE_CARD_M] as const)
    : ([0, problem.lengthAt(plane.poses[0]!.pose.parameters)] as const);
  if (!(endsM[1] - endsM[0] > LEAST_STRETCH_M))
    return none('the cards lie less than 20 cm apart: lay 0 at the start of the stretch and 1 at its end');
  const [fromM, toM] = endsM;
  const toPhoto = groundToPhoto(plane.camera);
  const errorMm = norm(
    alongErrorMm(plane.camera, plane.otherPhotoToGround, fromM, toM),
    1000 * PRINT_SD * (toM - fromM),
  );
  return {
    kind: 'cards',
    endsPx: [applyHomography(toPhoto, [fromM, 0]), applyHomography(toPhoto, [toM, 0])],
    endsM,
    photoToGround: plane.photoToGround,
    otherPhotoToGround: plane.otherPhotoToGround,
    alongErrorMm: errorMm,
    camera: plane.stand,
    readings: [],
    cues: [
      `marker cards ${cards.map((c) => c.id).join(', ')} of known size`,
      ...cameraCuesTold(used, 'cards'),
      ...(single ? [`how cameras are usually held (${plane.poses[0]!.pose.view})`] : []),
    ],
    coveredPx: cards.map((card) => sheetOutline(card, plane)),
    warnings: [...warnings, ...planeWarnings(plane, cues, errorMm / 1000 / (toM - fromM))],
  };
}

const order = (id: number): number => (id === 0 ? -1 : id === 1 ? 99 : id);
const cost = (plane: SoilPlane): number => plane.poses[0]!.pose.cost;

/** The sheet around a marker, on the soil, back in the photo. */
function sheetOutline(card: RefinedMarker, plane: SoilPlane): Point[] {
  const ground = card.corners.map((c) => applyHomography(plane.photoToGround, c)) as [Point, Point, Point, Point];
  const [a, b, c] = ground;
  const middle: Point = [(a[0] + c[0]) / 2, (a[1] + c[1]) / 2];
  const width = norm(b[0] - a[0], b[1] - a[1]);
  const right: Point = [(b[0] - a[0]) / width, (b[1] - a[1]) / width];
  const toPhoto = groundToPhoto(plane.camera);
  return (
    [
      [-1, 1],
      [1, 1],
      [1, -1],
      [-1, -1],
    ] as const
  ).map(([i, j]) => {
    const [x, y] = [i * SHEET_HALF_M[0], j * SHEET_HALF_M[1]];
    return applyHomography(toPhoto, [middle[0] + x * right[0] - y * right[1], middle[1] + x * right[1] + y * right[0]]);
  });
}

function none(why: string): NoReference {
  return { kind: 'none', reason: `No scale from marker cards: ${why}.`, warnings: [] };
}
