import type { Point } from '../../core/geometry/point.ts';

/** A small picture drawn once and put down many times: strokes and text cost a hundred times more than a copy. */
interface Stamp {
  readonly image: OffscreenCanvas;
  readonly widthPx: number;
  readonly heightPx: number;
}

const MOST_KEPT = 800;
const kept = new Map<string, Stamp>();

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
  paint: (ink: OffscreenCanvasRenderingContext2D) => void,
): void {
  const key = `${name} ${ratio}`;
  const stamp = kept.get(key) ?? made(Math.ceil(width * ratio), Math.ceil(height * ratio), ratio, paint);
  if (stamp === null) return;
  if (kept.size > MOST_KEPT) kept.clear();
  kept.set(key, stamp);
  const { image, widthPx, heightPx } = stamp;
  // On whole screen pixels, so that it stays sharp.
  const left = Math.round(x * ratio - widthPx / 2) / ratio;
  const top = Math.round(y * ratio - heightPx / 2) / ratio;
  ink.drawImage(image, left, top, widthPx / ratio, heightPx / ratio);
}

function made(
  widthPx: number,
  heightPx: number,
  ratio: number,
  paint: (ink: OffscreenCanvasRenderingContext2D) => void,
): Stamp | null {
  const image = new OffscreenCanvas(widthPx, heightPx);
  const ink = image.getContext('2d');
  if (ink === null) return null;
  ink.setTransform(ratio, 0, 0, ratio, widthPx / 2, heightPx / 2);
  paint(ink);
  return { image, widthPx, heightPx };
}
