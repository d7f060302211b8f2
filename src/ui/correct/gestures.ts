import type { Point } from '../../core/geometry/point.ts';
import { type PictureMap, panned, zoomed } from './camera.ts';
import type { LookStore } from './lookStore.ts';

/** What a finger can take hold of. */
export type Thing = { readonly plantId: string } | { readonly readingM: number };

export interface Gestures {
  readonly look: LookStore;
  readonly map: () => PictureMap;
  readonly photoSize: () => Point;
  readonly thingAt: (at: Point) => Thing | null;
  /** Whether this thing may be pulled at once; with a finger only the mark in hand, so that panning stays safe. */
  readonly mayDrag: (thing: Thing, mouse: boolean) => boolean;
  /** Places are screen pixels of the view. */
  readonly onTap: (thing: Thing | null, at: Point) => void;
  readonly onDrag: (thing: Thing, to: Point, done: boolean) => void;
  readonly onTouch: () => void;
}

/** A finger that moved less than this tapped. */
const STILL_PX = 7;
const WHEEL_SHARE = 0.0018;

/** Wheel, pinch, pan, tap and drag on one view. Returns what ends the listening. */
export function listenForGestures(element: HTMLElement, gestures: Gestures): () => void {
  const fingers = new Map<number, Point>();
  let held: { readonly thing: Thing | null; readonly drag: boolean; readonly from: Point; moved: boolean } | null =
    null;
  const size = (): Point => [element.clientWidth, element.clientHeight];
  const at = (event: PointerEvent | WheelEvent): Point => {
    const box = element.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  };

  const down = (event: PointerEvent) => {
    if (event.button !== 0) return;
    element.setPointerCapture(event.pointerId);
    const place = at(event);
    fingers.set(event.pointerId, place);
    gestures.onTouch();
    if (fingers.size > 1) {
      held = null;
      return;
    }
    const thing = gestures.thingAt(place);
    held = {
      thing,
      drag: thing !== null && gestures.mayDrag(thing, event.pointerType === 'mouse'),
      from: place,
      moved: false,
    };
  };

  const move = (event: PointerEvent) => {
    const before = fingers.get(event.pointerId);
    if (before === undefined) return;
    const now = at(event);
    if (fingers.size === 2) pinch(event.pointerId, before, now);
    fingers.set(event.pointerId, now);
    if (fingers.size !== 1 || held === null) return;
    if (!held.moved && Math.hypot(now[0] - held.from[0], now[1] - held.from[1]) < STILL_PX) return;
    const first = !held.moved;
    held.moved = true;
    if (held.drag && held.thing !== null) return gestures.onDrag(held.thing, now, false);
    const since = first ? held.from : before;
    const by: Point = [since[0] - now[0], since[1] - now[1]];
    gestures.look.set(panned(gestures.look.get(), gestures.map(), size(), by, gestures.photoSize()));
  };

  const pinch = (moving: number, before: Point, now: Point) => {
    const other = [...fingers].find(([id]) => id !== moving)?.[1];
    if (other === undefined) return;
    const apart = (p: Point) => Math.max(10, Math.hypot(p[0] - other[0], p[1] - other[1]));
    const middle = (p: Point): Point => [(p[0] + other[0]) / 2, (p[1] + other[1]) / 2];
    const [from, to] = [middle(before), middle(now)];
    const shifted = panned(
      gestures.look.get(),
      gestures.map(),
      size(),
      [from[0] - to[0], from[1] - to[1]],
      gestures.photoSize(),
    );
    gestures.look.set(zoomed(shifted, gestures.map(), size(), to, apart(now) / apart(before), gestures.photoSize()));
  };

  const up = (event: PointerEvent) => {
    const place = at(event);
    const cancelled = event.type === 'pointercancel';
    fingers.delete(event.pointerId);
    if (held === null || cancelled) {
      held = null;
      return;
    }
    const { thing, drag, moved } = held;
    held = null;
    if (!moved) gestures.onTap(thing, place);
    else if (drag && thing !== null) gestures.onDrag(thing, place, true);
  };

  const wheel = (event: WheelEvent) => {
    event.preventDefault();
    const step = event.deltaY * (event.deltaMode === 1 ? 16 : 1);
    const factor = Math.exp(-step * WHEEL_SHARE);
    gestures.look.set(zoomed(gestures.look.get(), gestures.map(), size(), at(event), factor, gestures.photoSize()));
  };

  element.addEventListener('pointerdown', down);
  element.addEventListener('pointermove', move);
  element.addEventListener('pointerup', up);
  element.addEventListener('pointercancel', up);
  element.addEventListener('wheel', wheel, { passive: false });
  return () => {
    element.removeEventListener('pointerdown', down);
    element.removeEventListener('pointermove', move);
    element.removeEventListener('pointerup', up);
    element.removeEventListener('pointercancel', up);
    element.removeEventListener('wheel', wheel);
  };
}
