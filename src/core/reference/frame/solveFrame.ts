import { middleOf } from '../../geometry/camera.ts';
import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { ribbonWidth } from '../line/ribbon.ts';
import { likelyFocalPx, likelyViews } from '../plane/likelyViews.ts';
import { planeFromPoses, type SoilPlane } from '../plane/planeFromPoses.ts';
import { RESTING_HEIGHT } from '../plane/restingHeight.ts';
import { solvePose } from '../plane/solvePose.ts';
import type { CameraCues } from '../reference.ts';
import { type FrameSize, frameProblem } from './frameProblem.ts';
import type { FrameQuad } from './frameQuad.ts';

/** Corners from crossing edges, and a frame that is not quite square or flat: pixels per 1000 of the picture's width. */
const CORNER_SD_SHARE = 0.0006;
/** Bars are 8 to 60 mm wide. */
const BAR_M: readonly [number, number] = [0.006, 0.07];

/**
 * The soil under a frame of a size by its inside corners (as of frameProblem) and the bars around them, with the corners'
 * misfit over their doubt. Null where bars would be none of a frame so large, or no camera sees such corners.
 */
export function solveFrame(
  corners: FrameQuad['corners'],
  bars: FrameQuad['bars'],
  size: FrameSize,
  { widthPx, heightPx }: Pick<Raster, 'widthPx' | 'heightPx'>,
  cues: CameraCues,
): { readonly plane: SoilPlane; readonly misfit: number; readonly liftM: number } | null {
  const sdPx = Math.max(0.7, CORNER_SD_SHARE * widthPx);
  const perimeter = corners.reduce(
    (sum, p, k) => sum + norm(p[0] - corners[(k + 1) % 4]![0], p[1] - corners[(k + 1) % 4]![1]),
    0,
  );
  const widths = bars.map(({ ribbon }) => ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2));
  const around = 2 * (size.alongM + Math.abs(size.acrossM));
  const barM = (widths.reduce((sum, w) => sum + w, 0) / 4) * (around / perimeter);
  if (barM < BAR_M[0] || barM > BAR_M[1]) return null;
  const focalPx = likelyFocalPx(cues, widthPx, heightPx);
  const views = likelyViews(cues, widthPx, heightPx, false);
  const solve = (sd: number): SoilPlane | null => {
    const problem = frameProblem(corners, size, barM / 2, sd, focalPx, middleOf(widthPx, heightPx));
    return planeFromPoses(
      views.flatMap((view) => solvePose(problem, view)),
      RESTING_HEIGHT.frame,
    );
  };
  const plane = solve(sdPx);
  if (plane === null) return null;
  const misfit = Math.sqrt(plane.poses[0]!.pose.cost / 2);
  const widened = misfit > 1 ? solve(sdPx * misfit) : plane;
  return widened === null ? null : { plane: widened, misfit, liftM: barM / 2 + RESTING_HEIGHT.frame.heightM };
}
