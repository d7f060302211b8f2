import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { frameBars } from '../frame/frameBars.ts';
import { type FrameQuad, frameQuads } from '../frame/frameQuad.ts';
import { solveFrame } from '../frame/solveFrame.ts';
import { ribbonOutline, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import { cameraCuesTold } from '../plane/cameraCuesTold.ts';
import { alongErrorMm } from '../plane/planeFromPoses.ts';
import { planeWarnings } from '../plane/planeWarnings.ts';
import type { CameraCues, FoundLine, FoundReference } from '../reference.ts';
import { placeAlong } from './liesOn.ts';
import { planeOnMarks } from './planeOnMarks.ts';

/** A mark this many times its doubt beside a bar is still meant for it. */
const WITHIN_SD = 3;
/** Corners that misfit a rectangle by more than this many times their doubt are of something else. */
const MOST_MISFIT = 5;

/**
 * The frame on one bar of which, or at whose corners, hand marks lie, if any: its bars cover what lies under them, and as a
 * rectangle of whatever proportion its inside tells how the soil lies. `plane` is null where its corners are of none.
 */
export function markedFrame(
  photo: Raster,
  line: FoundLine,
  cues: CameraCues,
): { readonly line: FoundLine; readonly plane: FoundReference | null } | null {
  for (const quad of frameQuads(frameBars(photo), photo.widthPx, photo.heightPx)) {
    const side = quad.bars.findIndex(({ ribbon }) =>
      line.readings.every(({ xPx, yPx, sdPx }) => {
        const p: Point = [xPx, yPx];
        const s = placeAlong(ribbon, p);
        const width = ribbonWidth(ribbon, s);
        const [cx, cy] = ribbonPoint(ribbon, s, 0);
        return norm(xPx - cx, yPx - cy) < width + WITHIN_SD * sdPx;
      }),
    );
    const bar = quad.bars[side];
    if (bar === undefined) continue;
    const { ribbon } = bar;
    const known: FoundLine = {
      ...line,
      on: 'frame',
      widths: line.readings.map(({ xPx, yPx, readingM }) => ({
        readingM,
        widthPx: ribbonWidth(ribbon, placeAlong(ribbon, [xPx, yPx])),
      })),
      coveredPx: quad.bars.map((b) => ribbonOutline(b.ribbon, 2)),
    };
    return { line: known, plane: framePlane(quad, side, known, photo, cues) };
  }
  return null;
}

function framePlane(
  quad: FrameQuad,
  side: number,
  line: FoundLine,
  photo: Raster,
  cues: CameraCues,
): FoundReference | null {
  const around = [0, 1, 2, 3].map((k) => quad.corners[(side + k) % 4]!) as unknown as FrameQuad['corners'];
  const [from, to] = line.endsPx;
  // corners run clockwise in the picture: marks that run with them have the frame to their right
  const withThem =
    (to[0] - from[0]) * (around[1][0] - around[0][0]) + (to[1] - from[1]) * (around[1][1] - around[0][1]) > 0;
  const corners: FrameQuad['corners'] = withThem ? around : [around[1], around[0], around[3], around[2]];
  const apart = (a: Point, b: Point): number => norm(b[0] - a[0], b[1] - a[1]);
  const alongPx = apart(corners[0], corners[1]);
  const acrossPx = (apart(corners[1], corners[2]) + apart(corners[3], corners[0])) / 2;
  const solve = (alongM: number) => {
    const acrossM = ((withThem ? -1 : 1) * alongM * acrossPx) / alongPx;
    const frame = solveFrame(corners, quad.bars, { alongM, acrossM, acrossKnown: false }, photo, cues);
    if (frame === null || frame.misfit > MOST_MISFIT) return null;
    const { size, ...onMarks } = planeOnMarks(frame.plane, frame.plane.stand, frame.liftM, line.readings);
    return { alongM, plane: frame.plane, size, onMarks };
  };
  // marks on a part of the bar give its length roughly at first: perspective crowds the far part
  const rough = solve(((line.endsM[1] - line.endsM[0]) * alongPx) / apart(from, to));
  const solved = rough === null ? null : solve(rough.alongM / rough.size);
  if (solved === null) return null;
  const { alongM, plane, onMarks } = solved;
  const lengthM = line.endsM[1] - line.endsM[0];
  const besideMm = alongErrorMm(plane.camera, plane.otherPhotoToGround, 0, alongM) * (lengthM / alongM);
  const errorMm = norm(besideMm, line.lengthErrorMm);
  return {
    kind: 'marks',
    on: 'frame',
    endsPx: line.endsPx,
    endsM: line.endsM,
    ...onMarks,
    alongErrorMm: errorMm,
    readings: line.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })),
    cues: [
      `${line.readings.length} readings along the marks`,
      'four inside corners of the frame that they lie on',
      ...cameraCuesTold(cues, 'frame'),
    ],
    coveredPx: line.coveredPx,
    warnings: [...line.warnings, ...planeWarnings(plane, cues, errorMm / 1000 / lengthM)],
  };
}
