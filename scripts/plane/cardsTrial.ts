import { type Camera, projectPoint } from '../../src/core/geometry/camera.ts';
import type { Point, Vector3 } from '../../src/core/geometry/point.ts';
import { add, cross, times, unit } from '../../src/core/geometry/vector.ts';
import { MARKER_SIDE_M } from '../../src/core/reference/cards/cardDesign.ts';
import { solveCards } from '../../src/core/reference/cards/findCards.ts';
import type { RefinedMarker } from '../../src/core/reference/cards/refineCorners.ts';
import { RESTING_HEIGHT } from '../../src/core/reference/plane/restingHeight.ts';
import type { Random } from '../scenes/random.ts';
import { inPhoto, judge, noisyCues, type Trial } from './lineTrial.ts';
import { HEIGHT_PX, WIDTH_PX } from './randomCamera.ts';

/** Corners found to 0.12 px (as measured on rendered scenes); `relief` cards lean by 2.5 degrees and lie 4 mm up or down (1 sd) about a common height that varies too, else they lie level at the height they are taken to have. */
export function cardsTrial(
  camera: Camera,
  lengthM: number,
  focalKnown: boolean,
  relief: number,
  random: Random,
): Trial | null {
  const cues = noisyCues(camera, 'none', focalKnown, 1, random);
  const across = random.normal(0, 0.05);
  const middles: Vector3[] = [
    [0, 0, 0],
    [lengthM, across, 0],
  ];
  const cards: RefinedMarker[] = [];
  const resting = RESTING_HEIGHT.cards;
  const heightM = resting.heightM + relief * random.normal(0, resting.sdM);
  for (const [id, middle] of middles.entries()) {
    const turn = random.between(-Math.PI, Math.PI);
    const [lx, ly, lift] = [
      random.normal(0, 0.044 * relief),
      random.normal(0, 0.044 * relief),
      random.normal(0, 0.004 * relief),
    ];
    const corners = (
      [
        [-1, 1],
        [1, 1],
        [1, -1],
        [-1, -1],
      ] as const
    ).map(([i, j]): Point => {
      const [x, y] = [(i * MARKER_SIDE_M) / 2, (j * MARKER_SIDE_M) / 2];
      const [dx, dy] = [x * Math.cos(turn) - y * Math.sin(turn), x * Math.sin(turn) + y * Math.cos(turn)];
      const [px, py] = projectPoint(camera, add(middle, [dx, dy, heightM + lift + lx * dy - ly * dx]));
      return [px + random.normal(0, 0.12), py + random.normal(0, 0.12)];
    });
    if (!corners.every(inPhoto)) return null;
    cards.push({ id, corners: corners as unknown as RefinedMarker['corners'], sdPx: 0.156 });
  }
  const found = solveCards(cards, cues, WIDTH_PX, HEIGHT_PX);
  if (found.kind === 'none') return { worstShare: 1, overSaid: [99], saidShare: 0 };
  const along = unit(add(middles[1]!, times(middles[0]!, -1)));
  const trueLength = Math.hypot(lengthM, across);
  return judge({ ...found, endsM: [0, trueLength] }, camera, (m) => times(along, m), cross([0, 0, 1], along));
}
