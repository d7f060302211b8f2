import { middleOf } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { CameraCues, FoundLine, FoundReference, NoReference, Warning } from '../reference.ts';
import type { GreenPoints } from '../rows/greenPoints.ts';
import { neighbourRows } from '../rows/neighbourRows.ts';
import { heightOfLine, isThick } from './heightOfLine.ts';
import { likelyFocalPx, likelyViews } from './likelyViews.ts';
import { lineProblem, type ParallelLine } from './lineProblem.ts';
import { planeCues } from './planeCues.ts';
import { alongErrorMm, planeFromPoses } from './planeFromPoses.ts';
import { planeWarnings } from './planeWarnings.ts';
import { solvePose } from './solvePose.ts';
import type { Pose } from './view.ts';

/** What else helps to fix the plane beside a line. */
export interface PlaneExtra {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Lines on the soil parallel to the reference (neighbouring rows): two photo points each, at a known distance. */
  readonly parallelLines?: readonly ParallelLine[];
  /** Leaf-coloured places of the photo, in which the neighbouring rows are looked for; asked for only when of use. */
  readonly green?: () => GreenPoints;
}

/**
 * The soil plane beside one straight reference. The readings and the focal length fix the line in space; what remains,
 * the turn of the soil about it, comes from every cue there is: the camera's height, gravity, how people hold cameras,
 * neighbouring rows at the row width. All are weighed in one fit (maximum a posteriori, Laplace's approximation for the doubt, several
 * views of how the camera was held compared by their evidence). Our own method, because a lone line with weak
 * cues is not a case of the usual camera calibration.
 */
export function solvePlane(line: FoundLine, cues: CameraCues, extra: PlaneExtra): FoundReference | NoReference {
  const alone = posesOf(line, cues, extra, extra.parallelLines ?? []);
  const rows = rowsBeside(alone, line, cues, extra);
  const withRows = rows === null ? null : posesOf(line, cues, extra, rows);
  const agree = withRows !== null && agrees(withRows, alone, rows!.length);
  const poses = agree ? withRows : alone;
  const lines = agree ? rows! : (extra.parallelLines ?? []);

  const best = mostLikely(poses);
  const plane = best === null ? null : planeFromPoses(poses, heightOfLine(line, best.camera));
  if (plane === null || plane.otherPhotoToGround.length === 0) {
    return {
      kind: 'none',
      reason:
        'The readings along the reference fit no camera over level soil: one of them is wrong, or the reference bends. Lay it straight and flat, or mark readings by hand.',
      warnings: line.warnings,
    };
  }
  const [fromM, toM] = line.endsM;
  const plain = alongErrorMm(plane.camera, plane.otherPhotoToGround, fromM, toM);
  const errorMm = norm(plain, line.lengthErrorMm);
  const warnings: Warning[] = [
    ...line.warnings,
    ...(withRows !== null && !agree ? [rowsContradict(cues)] : []),
    ...planeWarnings(plane, cues, errorMm / 1000 / Math.abs(toM - fromM), line.byEnds === true),
  ];
  return {
    kind: line.kind,
    ...(line.on === undefined ? {} : { on: line.on }),
    endsPx: line.endsPx,
    endsM: line.endsM,
    photoToGround: plane.photoToGround,
    otherPhotoToGround: plane.otherPhotoToGround,
    alongErrorMm: errorMm,
    camera: plane.stand,
    readings: line.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })),
    cues: planeCues(line, cues, lines.length, plane),
    coveredPx: line.coveredPx,
    warnings,
  };
}

/** Every way in which the camera may have been held that fits the reference and the lines beside it. */
function posesOf(line: FoundLine, cues: CameraCues, extra: PlaneExtra, lines: readonly ParallelLine[]): Pose[] {
  const views = likelyViews(cues, extra.widthPx, extra.heightPx, true);
  const focalPx = likelyFocalPx(cues, extra.widthPx, extra.heightPx);
  const middlePx = middleOf(extra.widthPx, extra.heightPx);
  const problem = lineProblem(line, isThick(line) ? line.widths : [], lines, focalPx, middlePx);
  return problem === null ? [] : views.flatMap((view) => solvePose(problem, view));
}

function mostLikely(poses: readonly Pose[]): Pose | null {
  return poses.reduce<Pose | null>((a, b) => (a === null || b.logEvidence > a.logEvidence ? b : a), null);
}

function rowsBeside(
  poses: readonly Pose[],
  line: FoundLine,
  cues: CameraCues,
  extra: PlaneExtra,
): readonly ParallelLine[] | null {
  const first = line.readings[0];
  const last = line.readings[line.readings.length - 1];
  if (extra.green === undefined || cues.rowWidthM === null || first === undefined || last === undefined) return null;
  const [fromM, toM] = [first.readingM, last.readingM];
  const question = {
    green: extra.green(),
    rowWidthM: cues.rowWidthM,
    fromM,
    toM,
    fromPx: [first.xPx, first.yPx] as const,
  };
  return neighbourRows(poses, question);
}

/** Rows that cost the fit more than this many standard deviations each (squared) are not where they should be. */
const ROWS_COST = 9;

function agrees(withRows: readonly Pose[], alone: readonly Pose[], rows: number): boolean {
  const least = (poses: readonly Pose[]): number => Math.min(...poses.map((p) => p.cost));
  return withRows.length > 0 && least(withRows) - least(alone) < ROWS_COST * rows;
}

function rowsContradict(cues: CameraCues): Warning {
  return {
    code: 'rows-contradict',
    message: `The neighbouring rows in the photo do not lie ${cues.rowWidthM!.toFixed(2)} m apart by the scale found: check the row width, the readings and their unit.`,
  };
}
