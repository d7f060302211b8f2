import { applyHomography, type Homography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';
import type { LengthSystem } from '../../core/units/formatLength.ts';
import { type Look, toPicture, toScreen, type ViewTransform, viewTransform } from './camera.ts';
import { drawGhost, drawMark, drawMoved } from './drawMarks.ts';
import { drawReference } from './drawReference.ts';
import type { Mark } from './marks.ts';
import type { Picture } from './pictures.ts';

export interface SceneReading {
  readonly readingM: number;
  readonly xPx: number;
  readonly yPx: number;
  readonly who: string | null;
  /** Drawn instead of the reading. */
  readonly label?: string;
}

/** Everything that lies over a picture, in photo pixels. */
export interface Scene {
  readonly marks: readonly Mark[];
  readonly readings: readonly SceneReading[];
  /** The ends of the stretch as lines across the row. */
  readonly ends: readonly (readonly [Point, Point])[];
  readonly selectedId: string | null;
  readonly selectedReadingM: number | null;
  /** Where a plant is about to be put. */
  readonly ghost: Point | null;
  readonly system: LengthSystem;
}

/** A ring is about as large as a seedling's leaves are far apart, within what a thumb and an eye need. */
const RING_M = 0.018;
const LEAST_RING_PX = 9;
const MOST_RING_PX = 18;
const NUMBER_ROOM_PX = 18;
const TAG_ROOM_PX = 46;
const LABEL_PX = 21;
/** From here on there is room for names on the tags. */
const ROOMY_PX_PER_M = 420;

/** Device pixels drawn for each screen pixel. */
export const drawnRatio = (): number => Math.min(2, devicePixelRatio || 1);

/** Draws one view: picture, reference, marks. */
export function paintView(canvas: HTMLCanvasElement, picture: Picture, look: Look, scene: Scene, photo: Point): void {
  const ratio = drawnRatio();
  const size: Point = [canvas.clientWidth, canvas.clientHeight];
  const [width, height] = size.map((s) => Math.round(s * ratio)) as [number, number];
  if (canvas.width !== width || canvas.height !== height) {
    canvas.width = width;
    canvas.height = height;
  }
  const ink = canvas.getContext('2d');
  if (ink === null || width === 0 || height === 0) return;
  const view = viewTransform(look, picture.map, size);
  ink.setTransform(ratio, 0, 0, ratio, 0, 0);
  ink.fillStyle = '#3c3833';
  ink.fillRect(0, 0, size[0], size[1]);
  drawPicture(ink, picture, view, ratio);

  const place = placer(picture.map.fromPhoto, view, photo);
  drawReference(
    ink,
    scene.readings.flatMap(({ xPx, yPx, readingM, who, label }) => {
      const at = place([xPx, yPx]);
      return at === null ? [] : [{ at, readingM, who, label, selected: readingM === scene.selectedReadingM }];
    }),
    scene.ends.flatMap(([a, b]) => {
      const [from, to] = [place(a), place(b)];
      return from === null || to === null ? [] : [[from, to] as const];
    }),
    scene.system,
  );
  const radius = Math.min(MOST_RING_PX, Math.max(LEAST_RING_PX, RING_M * look.screenPxPerM));
  const roomy = look.screenPxPerM >= ROOMY_PX_PER_M;
  const inView = scene.marks.flatMap((mark) => {
    const at = place([mark.plant.xPx, mark.plant.yPx]);
    const seen = at !== null && at[0] > -60 && at[0] < size[0] + 60 && at[1] > -60 && at[1] < size[1] + 60;
    return seen ? [{ mark, at }] : [];
  });
  const lifts = labelLifts(inView);
  const last = (one: { readonly mark: Mark }) => Number(isChosen(scene)(one.mark));
  for (const { mark, at } of inView.sort((a, b) => last(a) - last(b))) {
    const { plant } = mark;
    if (plant.machine !== null && plant.checked?.did === 'moved') {
      const from = place([plant.machine.xPx, plant.machine.yPx]);
      if (from !== null) drawMoved(ink, from, at);
    }
    drawMark(ink, mark, at, radius, { selected: isChosen(scene)(mark), roomy, lift: lifts.get(mark) ?? 0, ratio });
  }
  const ghost = scene.ghost === null ? null : place(scene.ghost);
  if (ghost !== null) drawGhost(ink, ghost, radius);
}

const isChosen =
  (scene: Scene) =>
  ({ plant, shape }: Mark): boolean =>
    shape !== 'gone' && plant.id === scene.selectedId;

/** Labels of marks that stand close together are raised by turns, so that each can be read. */
function labelLifts(marks: readonly { readonly mark: Mark; readonly at: Point }[]): ReadonlyMap<Mark, number> {
  const lifts = new Map<Mark, number>();
  let before: { readonly x: number; readonly tagged: boolean; readonly raised: boolean } | null = null;
  for (const { mark, at } of [...marks].sort((a, b) => a.at[0] - b.at[0])) {
    if (mark.number === null && mark.sign === null) continue;
    const tagged = mark.sign !== null;
    const room: number = tagged || before?.tagged === true ? TAG_ROOM_PX : NUMBER_ROOM_PX;
    const raised: boolean = before !== null && at[0] - before.x < room && !before.raised;
    if (raised) lifts.set(mark, LABEL_PX);
    before = { x: at[0], tagged, raised };
  }
  return lifts;
}

function drawPicture(
  ink: CanvasRenderingContext2D,
  { levels, map }: Picture,
  view: ViewTransform,
  ratio: number,
): void {
  // The smallest level that still holds a pixel for each on the screen.
  const wanted = view.scale * ratio;
  const level = [...levels].sort((a, b) => a.scale - b.scale).find((one) => one.scale >= wanted * 0.9) ?? levels[0]!;
  const [left, top] = toPicture(view, [0, 0]);
  const [right, bottom] = toPicture(view, view.size);
  const [x0, y0] = [Math.max(-0.5, left), Math.max(-0.5, top)];
  const [x1, y1] = [Math.min(map.widthPx - 0.5, right), Math.min(map.heightPx - 0.5, bottom)];
  if (!(x1 > x0) || !(y1 > y0)) return;
  const [sx, sy] = toScreen(view, [x0, y0]);
  ink.imageSmoothingEnabled = true;
  ink.imageSmoothingQuality = 'low';
  const s = level.scale;
  ink.drawImage(
    level.image,
    (x0 + 0.5) * s,
    (y0 + 0.5) * s,
    (x1 - x0) * s,
    (y1 - y0) * s,
    sx,
    sy,
    (x1 - x0) * view.scale,
    (y1 - y0) * view.scale,
  );
}

/** Photo pixel to screen; null for what lies far off the photo, where a straightened view has no place for it. */
function placer(fromPhoto: Homography, view: ViewTransform, [widthPx, heightPx]: Point): (at: Point) => Point | null {
  return ([x, y]) => {
    if (!(x > -widthPx && x < 2 * widthPx && y > -heightPx && y < 2 * heightPx)) return null;
    const [sx, sy] = toScreen(view, applyHomography(fromPhoto, [x, y]));
    return Number.isFinite(sx) && Number.isFinite(sy) ? [sx, sy] : null;
  };
}
