import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { applyHomography } from '../../core/geometry/homography.ts';
import type { Point } from '../../core/geometry/point.ts';
import { toPicture, viewTransform } from './camera.ts';
import { type Gestures, listenForGestures, type Thing } from './gestures.ts';
import type { LookStore } from './lookStore.ts';
import { paintView, type Scene } from './paintView.ts';
import type { Picture } from './pictures.ts';

export interface PictureViewProps {
  readonly name: string;
  readonly picture: Picture;
  readonly photoSize: Point;
  readonly look: LookStore;
  readonly scene: Scene;
  readonly active: boolean;
  /** Something at this photo pixel was tapped, or a thing is dragged there. */
  readonly onTap: (thing: Thing | null, at: Point) => void;
  readonly onDrag: (thing: Thing, to: Point, done: boolean) => void;
  readonly onTouch: () => void;
}

/** A finger in a glove hits within so many screen pixels. */
const REACH_PX = 26;

/** One picture with its marks: drawn on a canvas, moved by wheel, pinch and drag, in step with the other view. */
export function PictureView(props: PictureViewProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const latest = useRef(props);
  latest.current = props;
  const drawing = useRef(0);

  const paint = () => {
    drawing.current = 0;
    const { picture, look, scene, photoSize } = latest.current;
    if (canvas.current !== null) paintView(canvas.current, picture, look.get(), scene, photoSize);
  };
  // The view in hand and the numbers take this frame; the other view follows in the next, which nobody sees.
  const draw = () => {
    if (drawing.current !== 0) return;
    drawing.current = requestAnimationFrame(() => {
      if (latest.current.active) paint();
      else drawing.current = requestAnimationFrame(paint);
    });
  };
  // Records that are sent, lists that are read anew: the page is told of much that changes no picture.
  useLayoutEffect(draw, [props.picture, props.scene, props.active]);

  useEffect(() => {
    const element = canvas.current;
    if (element === null) return;
    const gestures: Gestures = {
      look: props.look,
      map: () => latest.current.picture.map,
      photoSize: () => latest.current.photoSize,
      thingAt: (at) => thingAt(latest.current, element, at),
      mayDrag: (thing, mouse) => 'readingM' in thing || mouse || latest.current.scene.selectedId === thing.plantId,
      onTap: (thing, at) => latest.current.onTap(thing, onPhoto(latest.current, element, at)),
      onDrag: (thing, to, done) => latest.current.onDrag(thing, onPhoto(latest.current, element, to), done),
      onTouch: () => latest.current.onTouch(),
    };
    const stop = listenForGestures(element, gestures);
    const unsubscribe = props.look.subscribe(draw);
    const resized = new ResizeObserver(draw);
    resized.observe(element);
    return () => {
      stop();
      unsubscribe();
      resized.disconnect();
      cancelAnimationFrame(drawing.current);
      drawing.current = 0;
    };
  }, [props.look]);

  return (
    <div class={`cp-view${props.active ? ' cp-active' : ''}`}>
      <canvas
        ref={canvas}
        class="cp-canvas"
        role="img"
        aria-label={`${props.name}, ${props.scene.marks.length} marks: the list follows`}
      />
      <span class="cp-view-name">{props.name}</span>
    </div>
  );
}

const sizeOf = (element: HTMLElement): Point => [element.clientWidth, element.clientHeight];

function onPhoto({ picture, look }: PictureViewProps, element: HTMLElement, at: Point): Point {
  const view = viewTransform(look.get(), picture.map, sizeOf(element));
  return applyHomography(picture.map.toPhoto, toPicture(view, at));
}

function thingAt({ picture, look, scene }: PictureViewProps, element: HTMLElement, [x, y]: Point): Thing | null {
  const view = viewTransform(look.get(), picture.map, sizeOf(element));
  const distance = ([px, py]: Point) => {
    const [sx, sy] = applyHomography(picture.map.fromPhoto, [px, py]);
    const at = [
      (sx - view.middle[0]) * view.scale + view.size[0] / 2,
      (sy - view.middle[1]) * view.scale + view.size[1] / 2,
    ];
    return Math.hypot(at[0]! - x, at[1]! - y);
  };
  let nearest: { thing: Thing; away: number } | null = null;
  const offer = (thing: Thing, at: Point) => {
    const away = distance(at);
    if (away <= REACH_PX && (nearest === null || away < nearest.away)) nearest = { thing, away };
  };
  for (const { plant, shape } of scene.marks) {
    if (shape !== 'gone') offer({ plantId: plant.id }, [plant.xPx, plant.yPx]);
  }
  for (const { readingM, xPx, yPx } of scene.readings) offer({ readingM }, [xPx, yPx]);
  return (nearest as { thing: Thing } | null)?.thing ?? null;
}
