import { type Camera, photoToGround, projectPoint } from '../../geometry/camera.ts';
import { exponential } from '../../geometry/exponential.ts';
import { applyHomography } from '../../geometry/homography.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point, Vector3 } from '../../geometry/point.ts';
import { cameraOfLine, lineViewFor } from '../plane/lineCamera.ts';
import type { PoseProblem } from '../plane/solvePose.ts';
import { MARKER_SIDE_M } from './cardDesign.ts';
import type { RefinedMarker } from './refineCorners.ts';

/** A card lies on clods: it leans by about 2.5 degrees and lies a few millimetres above or below the others (1 sd). */
const LEAN_SD = 0.044;
const LIFT_SD_M = 0.004;
const HALF_M = MARKER_SIDE_M / 2;
/** Corners on the card, from its own top left, clockwise: right, up. */
const CORNERS: readonly Point[] = [
  [-HALF_M, HALF_M],
  [HALF_M, HALF_M],
  [HALF_M, -HALF_M],
  [-HALF_M, -HALF_M],
];

/** Parameters of the camera: pixels of the two ends of the axis, vanish, turn, log focal length, log length of the axis. */
const CAMERA_PARAMETERS = 8;
/** Parameters of a card: along, across, turn on the soil, lean about along and across, lift. */
const CARD_PARAMETERS = 6;

export interface CardsProblem extends PoseProblem {
  /** Metres between the ends of the axis. */
  readonly lengthAt: (parameters: readonly number[]) => number;
}

/**
 * The camera over marker cards of known size that lie anywhere on one soil plane. With two cards or more the axis runs
 * from the middle of the first to the middle of the last, and its length is one of the unknowns; with one card it runs
 * across that card.
 */
export function cardsProblem(
  cards: readonly RefinedMarker[],
  focalPx: number,
  middlePx: Point,
  inflate: number,
): CardsProblem {
  const single = cards.length === 1;
  const axis: readonly [Point, Point] = single
    ? [between(cards[0]!.corners[0], cards[0]!.corners[3]), between(cards[0]!.corners[1], cards[0]!.corners[2])]
    : [middleOfMarker(cards[0]!), middleOfMarker(cards[cards.length - 1]!)];
  const lengthAt = (p: readonly number[]): number => (single ? MARKER_SIDE_M : exponential(p[7]!));
  const cameraAt = (p: readonly number[]): Camera | null =>
    cameraOfLine(
      {
        firstPx: [p[0]!, p[1]!],
        lastPx: [p[2]!, p[3]!],
        vanish: p[4]!,
        turn: p[5]!,
        focalPx: focalPx * exponential(p[6]!),
      },
      single ? -HALF_M : 0,
      single ? HALF_M : lengthAt(p),
      middlePx,
    );
  return {
    lengthAt,
    cameraAt,
    start: (up) => {
      const view = lineViewFor(up, axis[0], axis[1], null, focalPx, middlePx);
      if (view === null) return null;
      const camera = [...axis[0], ...axis[1], view.vanish, view.turn, 0];
      const unscaled = cameraAt([...camera, 0]);
      if (unscaled === null) return null;
      const ground = photoToGround(unscaled);
      const laid = cards.map((card) => card.corners.map((c) => applyHomography(ground, c)));
      const side =
        laid.flat().reduce((sum, c, i) => sum + apart(c, laid[i >> 2]![(i + 1) % 4]!), 0) / (4 * cards.length);
      const scale = single ? 1 : MARKER_SIDE_M / side;
      if (!(scale > 0) || !Number.isFinite(scale)) return null;
      const places = laid.flatMap((corners) => {
        const [x, y] = [mean(corners.map((c) => c[0])) * scale, mean(corners.map((c) => c[1])) * scale];
        const right = [corners[1]![0] - corners[0]![0], corners[1]![1] - corners[0]![1]] as const;
        return [x, y, Math.atan2(right[1], right[0]), 0, 0, 0];
      });
      return [...camera, Math.log(scale), ...places];
    },
    residuals: (p, camera) => {
      const out: number[] = [];
      const length = lengthAt(p);
      for (let k = 0; k < cards.length; k++) {
        const { corners, sdPx } = cards[k]!;
        const from = CAMERA_PARAMETERS + k * CARD_PARAMETERS;
        const laid = cornersOnSoil(p, from);
        const sd = sdPx * inflate;
        for (let i = 0; i < 4; i++) {
          const [x, y] = projectPoint(camera, laid[i]!);
          out.push((x - corners[i]![0]) / sd, (y - corners[i]![1]) / sd);
        }
        const along = p[from]!;
        const across = p[from + 1]!;
        out.push(p[from + 3]! / LEAN_SD, p[from + 4]! / LEAN_SD, p[from + 5]! / LIFT_SD_M);
        // The axis is defined by the first and last card (a tenth of a millimetre stands for "exactly").
        if (single) out.push(along / 1e-4, across / 1e-4, p[from + 2]! / 1e-3);
        else if (k === 0) out.push(along / 1e-4, across / 1e-4);
        else if (k === cards.length - 1) out.push((along - length) / 1e-4, across / 1e-4);
      }
      if (single) out.push(p[7]!);
      return out;
    },
    steps: [
      1e-3,
      1e-3,
      1e-3,
      1e-3,
      1e-6,
      1e-6,
      1e-6,
      1e-6,
      ...cards.flatMap(() => [1e-6, 1e-6, 1e-6, 1e-6, 1e-6, 1e-6]),
    ],
  };
}

/** The four corners of a card's black square on the soil; the card's own parameters begin at `from`. */
function cornersOnSoil(p: readonly number[], from: number): Vector3[] {
  const [along, across, turn] = [p[from]!, p[from + 1]!, p[from + 2]!];
  const [leanX, leanY, lift] = [p[from + 3]!, p[from + 4]!, p[from + 5]!];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return CORNERS.map(([x, y]) => {
    const [dx, dy] = [x * c - y * s, x * s + y * c];
    return [along + dx, across + dy, lift + leanX * dy - leanY * dx];
  });
}

/** Where the diagonals of a marker cross: its middle, whatever the perspective. */
export function middleOfMarker({ corners: [a, b, c, d] }: Pick<RefinedMarker, 'corners'>): Point {
  const [ux, uy, vx, vy] = [c[0] - a[0], c[1] - a[1], d[0] - b[0], d[1] - b[1]];
  const t = ((b[0] - a[0]) * vy - (b[1] - a[1]) * vx) / (ux * vy - uy * vx);
  return [a[0] + t * ux, a[1] + t * uy];
}

const between = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
const apart = (a: Point, b: Point): number => norm(a[0] - b[0], a[1] - b[1]);
const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
