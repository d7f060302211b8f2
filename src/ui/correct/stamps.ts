import type { Point } from '../../core/geometry/point.ts';

/** A small picture drawn once and put down many times: strokes and text cost a hundred times more than a copy. */
interface Stamp {
  /** Finished: a canvas would be asked at every copy whether it was drawn on since. */
  readonly image: ImageBitmap;
  readonly widthPx: number;
  readonly heightPx: number;
}

type Paint = (ink: OffscreenCanvasRenderingContext2D) => void;

/** Rings, tags, and the numbers of some hundred plants in two kinds. */
const MOST_KEPT = 1600;
const kept = new Map<string, Stamp>();
let bench: OffscreenCanvas | null = null;

/**
 * Puts down what `paint` draws, kept under its name.
 *
 * @param name tells every look apart; the ratio is added here.
 * @param ratio device pixels per screen pixel.
 * @param at where the stamp's middle lies, screen pixels.
 * @param size width and height, screen pixels.
 * @param paint draws around (0, 0), the middle.
 */
export function putStamp(
  ink: CanvasRenderingContext2D,
  name: string,
  ratio: number,
  [x, y]: Point,
  [width, height]: Point,
  paint: Paint,
): void {
  const stamp = stampOf(name, ratio, [width, height], paint);
  if (stamp === null) return;
  const { image, widthPx, heightPx } = stamp;
  // On whole screen pixels, so that it stays sharp.
  const left = Math.round(x * ratio - widthPx / 2) / ratio;
  const top = Math.round(y * ratio - heightPx / 2) / ratio;
  ink.drawImage(image, left, top, widthPx / ratio, heightPx / ratio);
}

/** The stamp of a name, made now where it is not kept. For those that will be wanted: an answer need not wait for them. */
export function stampOf(name: string, ratio: number, [width, height]: Point, paint: Paint): Stamp | null {
  const key = `${name} ${ratio}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const stamp = made(Math.ceil(width * ratio), Math.ceil(height * ratio), ratio, paint);
  if (stamp === null) return null;
  if (kept.size > MOST_KEPT) {
    for (const { image } of kept.values()) image.close();
    kept.clear();
  }
  kept.set(key, stamp);
  return stamp;
}

function made(widthPx: number, heightPx: number, ratio: number, paint: Paint): Stamp | null {
  bench ??= new OffscreenCanvas(widthPx, heightPx);
  // A new size clears it and sets all pens back.
  bench.width = widthPx;
  bench.height = heightPx;
  const ink = bench.getContext('2d');
  if (ink === null) return null;
  ink.setTransform(ratio, 0, 0, ratio, widthPx / 2, heightPx / 2);
  paint(ink);
  return { image: bench.transferToImageBitmap(), widthPx, heightPx };
}
