import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { ribbonOutline } from '../line/ribbon.ts';
import { cameraCuesTold } from '../plane/cameraCuesTold.ts';
import { alongErrorMm, type SoilPlane } from '../plane/planeFromPoses.ts';
import { planeWarnings } from '../plane/planeWarnings.ts';
import type { CameraCues, FoundReference, NoReference, Warning } from '../reference.ts';
import { frameBars } from './frameBars.ts';
import { type FrameQuad, frameQuads } from './frameQuad.ts';
import { solveFrame } from './solveFrame.ts';

/** Root mean square misfit over the doubt beyond which the four corners are not those of the frame asked for. */
const REFUSE_MISFIT = 12;
const WARN_MISFIT = 5;

/**
 * Finds a rigid rectangular frame: four straight bars of even width whose inside edges meet at four corners, in the
 * proportion asked for. Along is the first size, to the right (or up) in the photo along the lower (or right) side;
 * zero at its left (or lower) inside corner, across into the frame.
 */
export function findFrame(
  photo: Raster,
  alongM: number,
  acrossM: number,
  cues: CameraCues,
): FoundReference | NoReference {
  const bars = frameBars(photo);
  const quads = frameQuads(bars, photo.widthPx, photo.heightPx);
  if (quads.length === 0) {
    return none(
      bars.length < 4
        ? `${bars.length} straight bars were seen, a frame has four: show the whole frame, its bars uncovered`
        : 'straight strips were seen, but no four that close to a frame with all inside corners in the photo: show the whole frame, clear leaves from its corners',
    );
  }
  const best = quads.slice(0, 3).flatMap((quad) => solveQuad(quad, photo, alongM, acrossM, cues));
  best.sort((p, q) => q.quad.supportPx / (1 + excess(q.misfit)) - p.quad.supportPx / (1 + excess(p.misfit)));
  const found = best[0];
  if (found === undefined || found.misfit > REFUSE_MISFIT) {
    return none(
      `a frame was seen, but its corners do not fit inside sizes of ${alongM.toFixed(2)} x ${acrossM.toFixed(2)} m: check the sizes (inside, first along the row), and that it lies flat`,
    );
  }
  return toReference(found, alongM, acrossM, cues);
}

const excess = (misfit: number): number => Math.max(0, misfit - 1) / 4;

interface SolvedFrame {
  readonly quad: FrameQuad;
  readonly corners: readonly [Point, Point, Point, Point];
  readonly plane: SoilPlane;
  readonly misfit: number;
}

/** The frame's plane for each way its two sizes can lie, the better one. */
function solveQuad(quad: FrameQuad, photo: Raster, alongM: number, acrossM: number, cues: CameraCues): SolvedFrame[] {
  const solved = [0, 1].flatMap((turn): SolvedFrame[] => {
    const corners = axisFirst(quad.corners, turn);
    const frame = solveFrame(corners, quad.bars, { alongM, acrossM, acrossKnown: true }, photo, cues);
    return frame === null ? [] : [{ quad, corners, ...frame }];
  });
  // A square frame fits both ways: then the side that runs more to the right is along.
  solved.sort((a, b) => a.misfit - b.misfit);
  return solved.length === 2 && Math.abs(alongM / acrossM - 1) < 0.02
    ? [...solved].sort((a, b) => slope(a.corners) - slope(b.corners)).slice(0, 1)
    : solved.slice(0, 1);
}

const slope = ([a, b]: SolvedFrame['corners']): number => Math.abs(Math.atan2(b[1] - a[1], b[0] - a[0]));

/**
 * Clockwise corners to (0, 0), (along, 0), (along, across), (0, across): anticlockwise as seen, from the side that runs
 * right, or else up. `turn` 0 or 1 says which pair of opposite sides is along.
 */
function axisFirst(clockwise: FrameQuad['corners'], turn: number): SolvedFrame['corners'] {
  const around = [...clockwise].reverse();
  const from = (k: number) => [0, 1, 2, 3].map((i) => around[(i + k) % 4]!) as unknown as SolvedFrame['corners'];
  const [one, other] = [from(turn), from(turn + 2)];
  const rightOrUp = ([a, b]: SolvedFrame['corners']): number => b[0] - a[0] - 0.5 * (b[1] - a[1]);
  return rightOrUp(one) >= rightOrUp(other) ? one : other;
}

function toReference(
  { quad, corners, plane, misfit }: SolvedFrame,
  alongM: number,
  acrossM: number,
  cues: CameraCues,
): FoundReference {
  const errorMm = alongErrorMm(plane.camera, plane.otherPhotoToGround, 0, alongM);
  const warnings: Warning[] =
    misfit > WARN_MISFIT
      ? [
          {
            code: 'frame-misfit',
            message:
              'The frame fits its sizes only roughly: check the sizes, that it is square and lies flat, and that the picture is not cropped.',
          },
        ]
      : [];
  return {
    kind: 'frame',
    endsPx: [corners[0], corners[1]],
    endsM: [0, alongM],
    photoToGround: plane.photoToGround,
    otherPhotoToGround: plane.otherPhotoToGround,
    alongErrorMm: errorMm,
    camera: plane.stand,
    readings: [
      { xPx: corners[0][0], yPx: corners[0][1], readingM: 0 },
      { xPx: corners[1][0], yPx: corners[1][1], readingM: alongM },
    ],
    cues: [
      `four inside corners of a frame of ${alongM.toFixed(2)} x ${acrossM.toFixed(2)} m`,
      ...cameraCuesTold(cues, 'frame'),
    ],
    coveredPx: quad.bars.map(({ ribbon }) => ribbonOutline(ribbon, 2)),
    warnings: [...warnings, ...planeWarnings(plane, cues, errorMm / 1000 / alongM)],
  };
}

function none(why: string): NoReference {
  return { kind: 'none', reason: `No frame to scale by: ${why}.`, warnings: [] };
}
