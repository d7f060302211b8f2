import type { CountResult } from '../count/countResult.ts';
import { applyHomography, composeHomographies, type Homography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import { solvePlane } from '../reference/plane/solvePlane.ts';
import type { CameraCues, FoundLine, FoundReference, Reading } from '../reference/reference.ts';

/** A reading that a person put in its place. */
export interface PlacedReading extends Reading {
  readonly by: string;
}

/** Readings shown for dragging: the ends and a few between; more would hide the tape. */
const HANDLES = 5;
/** A finger or a mouse on a zoomed photo hits a mark to this share of the picture's diagonal. Common practice, no source. */
const PLACED_SHARE = 0.0004;
/** Beside readings that a person placed, the machine's only steer what those leave open. */
const LEFT_ALONE_SHARE = 10 * PLACED_SHARE;
/** Chest height, held loosely, where an early result did not say what was known. Common practice, no source. */
const LOOSE_CUES: CameraCues = {
  focalPx: null,
  heightM: 1.5,
  heightSdM: 0.25,
  heightGiven: false,
  gravity: null,
  rowWidthM: null,
};

/** The readings of a reference that are shown for dragging, in order along it. */
export function handleReadings({ readings, endsPx, endsM }: CountResult['reference']): readonly Reading[] {
  const sorted = [...readings].sort((a, b) => a.readingM - b.readingM);
  if (sorted.length < 2) {
    if (endsPx === null || endsM === null) return [];
    return endsPx.map(([xPx, yPx], i) => ({ xPx, yPx, readingM: endsM[i]! })).sort((a, b) => a.readingM - b.readingM);
  }
  const many = Math.min(HANDLES, sorted.length);
  return Array.from({ length: many }, (_, i) => sorted[Math.round((i * (sorted.length - 1)) / (many - 1))]!);
}

/**
 * The soil plane after a person put readings where they belong. Beside a line (tape, rod, hand marks) the plane is
 * solved again from all that was known, the placed readings ruling. Cards and frames keep their perspective and are
 * shifted, turned and scaled on the soil so that the placed readings come out right. The stretch keeps its readings.
 * Null where the photo has no reference or the readings fit no camera.
 */
export function movedReference(
  result: CountResult,
  asked: readonly PlacedReading[],
): Pick<CountResult, 'reference'> | null {
  const { reference, photo } = result;
  const handles = handleReadings(reference);
  const moves = asked.filter((m) => [...handles, ...reference.readings].some((reading) => sameReading(m, reading)));
  if (reference.photoToGround === null || moves.length === 0) return null;
  const pulled = rubberBand(reference, moves);
  const readings = [
    ...handles.filter((reading) => !moves.some((m) => sameReading(m, reading))).map(pulled),
    ...moves,
  ].sort((a, b) => a.readingM - b.readingM);
  const first = readings[0];
  const last = readings.at(-1);
  if (first === undefined || last === undefined || !(last.readingM > first.readingM)) return null;
  const names = [...new Set(moves.map((m) => m.by))].sort().join(', ');
  const cues = [`${moves.length === 1 ? '1 reading' : `${moves.length} readings`} placed by ${names}`];
  const solved = linePlane(result, readings, moves);
  const photoToGround = solved?.photoToGround ?? shifted(reference.photoToGround, readings, moves);
  if (photoToGround === null) return null;
  const known = reference.readings.length < 2 ? readings : reference.readings;
  return {
    reference: {
      ...reference,
      photoToGround,
      endsPx: [
        [first.xPx, first.yPx],
        [last.xPx, last.yPx],
      ],
      endsM: [first.readingM, last.readingM],
      readings: known.map(pulled),
      alongErrorMm: solved?.alongErrorMm ?? placedErrorMm(reference.alongErrorMm, first, last, photo),
      cues: [...cues, ...(solved?.cues ?? reference.cues)],
    },
  };
}

/**
 * Where the machine's readings come to lie when some are put elsewhere: those between are carried along like marks on a
 * rubber band, held at the ends. A wrong scale or a wrong start is mended whole that way by dragging one or both ends.
 */
function rubberBand(reference: CountResult['reference'], moves: readonly PlacedReading[]): (r: Reading) => Reading {
  const handles = handleReadings(reference);
  const before = [...handles, ...reference.readings];
  const knots = moves.map((m) => {
    const old = before.find((reading) => sameReading(m, reading))!;
    return { at: m.readingM, byX: m.xPx - old.xPx, byY: m.yPx - old.yPx };
  });
  for (const end of [handles[0]!, handles.at(-1)!]) {
    if (!moves.some((m) => sameReading(m, end))) knots.push({ at: end.readingM, byX: 0, byY: 0 });
  }
  knots.sort((a, b) => a.at - b.at);
  return ({ xPx, yPx, readingM }) => {
    const next = knots.findIndex((knot) => knot.at >= readingM - 1e-9);
    const above = knots[next] ?? knots.at(-1)!;
    const below = knots[next - 1] ?? above;
    const share = above.at > below.at ? (readingM - below.at) / (above.at - below.at) : 1;
    const mix = (from: number, to: number) => from + share * (to - from);
    return { xPx: xPx + mix(below.byX, above.byX), yPx: yPx + mix(below.byY, above.byY), readingM };
  };
}

/** Readings are known by what they say; a tenth of a millimetre apart is the same one. */
export function sameReading(a: Pick<Reading, 'readingM'>, b: Pick<Reading, 'readingM'>): boolean {
  return Math.abs(a.readingM - b.readingM) < 1e-4;
}

function linePlane(
  { reference, photo, setting }: CountResult,
  readings: readonly Reading[],
  moves: readonly PlacedReading[],
): FoundReference | null {
  const { kind } = reference;
  if (kind !== 'tape' && kind !== 'rod' && kind !== 'marks') return null;
  const diagonalPx = Math.hypot(photo.widthPx, photo.heightPx);
  const isPlaced = (reading: Reading) => moves.some((m) => sameReading(m, reading));
  const [first, last] = [readings[0]!, readings.at(-1)!];
  const chordPx = Math.hypot(last.xPx - first.xPx, last.yPx - first.yPx);
  const line: FoundLine = {
    kind: 'marks',
    readings: readings.map((reading) => ({
      ...reading,
      sdPx: diagonalPx * (isPlaced(reading) ? PLACED_SHARE : LEFT_ALONE_SHARE),
    })),
    endsPx: [
      [first.xPx, first.yPx],
      [last.xPx, last.yPx],
    ],
    endsM: [first.readingM, last.readingM],
    endsSeen: [true, true],
    widths: [],
    lengthErrorMm: (1000 * Math.SQRT2 * PLACED_SHARE * diagonalPx * (last.readingM - first.readingM)) / chordPx,
    coveredPx: [],
    warnings: [],
  };
  const found = solvePlane(line, setting?.cues ?? LOOSE_CUES, photo);
  return found.kind === 'none' ? null : found;
}

/**
 * The old plane, then a shift, turn and even scaling of the soil that brings the readings to their places on the axis
 * (least squares over them all, the placed ones ruling).
 */
function shifted(old: Homography, readings: readonly Reading[], moves: readonly PlacedReading[]): Homography | null {
  const pairs = readings.map((reading) => ({
    from: applyHomography(old, [reading.xPx, reading.yPx]),
    toM: reading.readingM,
    weight: moves.some((m) => sameReading(m, reading)) ? (LEFT_ALONE_SHARE / PLACED_SHARE) ** 2 : 1,
  }));
  const weight = pairs.reduce((sum, p) => sum + p.weight, 0);
  const mean = (value: (pair: (typeof pairs)[number]) => number) =>
    pairs.reduce((sum, p) => sum + p.weight * value(p), 0) / weight;
  const centre: Point = [mean((p) => p.from[0]), mean((p) => p.from[1])];
  const toMiddle = mean((p) => p.toM);
  // In complex numbers: to = a (from - centre) + middle, with a = sum conj(from) to / sum |from|^2.
  let [real, imaginary, size] = [0, 0, 0];
  for (const { from, toM, weight: w } of pairs) {
    const [x, y] = [from[0] - centre[0], from[1] - centre[1]];
    real += w * x * (toM - toMiddle);
    imaginary -= w * y * (toM - toMiddle);
    size += w * (x * x + y * y);
  }
  const [a, b] = [real / size, imaginary / size];
  if (!(Math.hypot(a, b) > 1e-6)) return null;
  const move: Homography = [
    a,
    -b,
    toMiddle - a * centre[0] + b * centre[1],
    b,
    a,
    -b * centre[0] - a * centre[1],
    0,
    0,
    1,
  ];
  return composeHomographies(move, old);
}

function placedErrorMm(beforeMm: number | null, first: Reading, last: Reading, photo: CountResult['photo']): number {
  const chordPx = Math.hypot(last.xPx - first.xPx, last.yPx - first.yPx);
  const pointingPx = Math.SQRT2 * PLACED_SHARE * Math.hypot(photo.widthPx, photo.heightPx);
  return Math.max(beforeMm ?? 0, (1000 * pointingPx * (last.readingM - first.readingM)) / chordPx);
}
