import { middleOf } from '../../geometry/camera.ts';
import type { CameraCues, FoundLine, FoundReference, NoReference, Warning } from '../reference.ts';
import { likelyFocalPx, likelyViews } from './likelyViews.ts';
import { lineProblem, type ParallelLine } from './lineProblem.ts';
import { planeCues } from './planeCues.ts';
import { alongErrorMm, planeFromPoses } from './planeFromPoses.ts';
import { planeWarnings } from './planeWarnings.ts';
import { solvePose } from './solvePose.ts';

/** What else helps to fix the plane beside a line. */
export interface PlaneExtra {
  readonly widthPx: number;
  readonly heightPx: number;
  /** Lines on the soil parallel to the reference (neighbouring rows): two photo points each, at a known distance. */
  readonly parallelLines?: readonly ParallelLine[];
}

/**
 * The soil plane beside one straight reference. The readings and the focal length fix the line in space; what remains,
 * the turn of the soil about it, comes from every cue there is: the camera's height, gravity, how people hold cameras,
 * neighbouring rows. All are weighed in one fit (maximum a posteriori, Laplace's approximation for the doubt, several
 * views of how the camera was held compared by their evidence). Our own method, because a lone line with weak
 * cues is not a case of the usual camera calibration.
 */
export function solvePlane(line: FoundLine, cues: CameraCues, extra: PlaneExtra): FoundReference | NoReference {
  const lines = extra.parallelLines ?? [];
  const views = likelyViews(cues, extra.widthPx, extra.heightPx, true);
  const focalPx = likelyFocalPx(cues, extra.widthPx, extra.heightPx);
  const middlePx = middleOf(extra.widthPx, extra.heightPx);
  const problem = lineProblem(line.readings, line.kind === 'rod' ? line.widths : [], lines, focalPx, middlePx);
  const plane = problem === null ? null : planeFromPoses(views.flatMap((view) => solvePose(problem, view)));
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
  const errorMm = Math.hypot(plain, line.lengthErrorMm);
  const warnings: Warning[] = [...line.warnings, ...planeWarnings(plane, cues, errorMm / 1000 / Math.abs(toM - fromM))];
  return {
    kind: line.kind,
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
