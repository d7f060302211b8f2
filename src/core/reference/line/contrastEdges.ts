import { type BitMask, makeBitMask } from '../../raster/bitMask.ts';
import { pixelWords } from '../../raster/pixelWords.ts';
import type { Raster } from '../../raster/raster.ts';

/** The channels a man-made ribbon is told from soil, straw and leaves by; each is a difference that shade changes little in sign. */
export type ContrastChannel = 'light' | 'yellow' | 'red';

/**
 * Shares of red, green and blue. Plain opponent colours, so that a yellow tape on pale straw of the same lightness still
 * has edges.
 */
const SHARES: Readonly<Record<ContrastChannel, readonly [number, number, number]>> = {
  light: [1, 1, 1],
  yellow: [1, 1, -2],
  red: [2, -1, -1],
};

/** Edges of one contrast channel: local maxima of the Sobel magnitude among the strongest pixels. Struct of arrays. */
export interface ContrastEdges {
  readonly mask: BitMask;
  /** Edges before each word of the mask. */
  readonly rank: Int32Array;
  readonly x: Uint16Array;
  readonly y: Uint16Array;
  /** Gradient, and its magnitude rounded down. */
  readonly gx: Int16Array;
  readonly gy: Int16Array;
  readonly size: Uint16Array;
  /** Those that go on straight. */
  readonly straight: Int32Array;
}

/** Memory that several channels of one picture use in turn: fresh pages cost more than the sums written on them. */
export interface EdgeWorkspace {
  readonly channel: Int16Array;
  readonly size: Uint16Array;
}

export function makeEdgeWorkspace({ widthPx, heightPx }: Raster): EdgeWorkspace {
  return { channel: new Int16Array(widthPx * heightPx), size: new Uint16Array(widthPx * heightPx) };
}

/** @param edgeShare share of the pixels that count as strong. */
export function contrastEdges(
  picture: Raster,
  channel: ContrastChannel,
  edgeShare: number,
  workspace: EdgeWorkspace,
): ContrastEdges {
  const histogram = magnitudes(picture, SHARES[channel], workspace);
  const edges = localMaxima(picture, workspace, levelOfTop(histogram, edgeShare));
  const straight = new Int32Array(edges.x.length);
  let kept = 0;
  for (let k = 0; k < edges.x.length; k++) if (goesOn(edges, k)) straight[kept++] = k;
  return { ...edges, straight: straight.subarray(0, kept) };
}

/** Number of the edge at a pixel, -1 for none. */
export function edgeAt(mask: BitMask, rank: Int32Array, x: number, y: number): number {
  const at = y * mask.wordsPerRow + (x >> 5);
  const word = mask.words[at]!;
  if (((word >>> (x & 31)) & 1) === 0) return -1;
  return rank[at]! + bitsIn(word & ((1 << (x & 31)) - 1));
}

function bitsIn(word: number): number {
  const pairs = word - ((word >>> 1) & 0x55555555);
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/** Fills channel and magnitude (inside the border) and returns how often each magnitude occurs. */
function magnitudes(
  picture: Raster,
  [red, green, blue]: readonly [number, number, number],
  { channel, size }: EdgeWorkspace,
): Uint32Array {
  const { widthPx: w, heightPx: h } = picture;
  const words = pixelWords(picture);
  // no channel reaches more: 4 * 1020 to a side
  const histogram = new Uint32Array(8192);
  for (let y = 0; y < h; y++) {
    for (let x = 0, i = y * w; x < w; x++, i++) {
      const word = words[i]!;
      channel[i] = red * (word & 255) + green * ((word >>> 8) & 255) + blue * ((word >>> 16) & 255);
    }
    if (y < 2) continue;
    const middle = (y - 1) * w;
    let sumLeft = channel[middle - w]! + 2 * channel[middle]! + channel[middle + w]!;
    let stepLeft = channel[middle + w]! - channel[middle - w]!;
    let sum = channel[middle - w + 1]! + 2 * channel[middle + 1]! + channel[middle + w + 1]!;
    let step = channel[middle + w + 1]! - channel[middle - w + 1]!;
    for (let i = middle + 1, end = middle + w - 1; i < end; i++) {
      const up = channel[i - w + 1]!;
      const down = channel[i + w + 1]!;
      const sumRight = (up + 2 * channel[i + 1]! + down) | 0;
      const stepRight = (down - up) | 0;
      const dx = (sumRight - sumLeft) | 0;
      const dy = (stepLeft + 2 * step + stepRight) | 0;
      const m = Math.sqrt((Math.imul(dx, dx) + Math.imul(dy, dy)) | 0) | 0;
      size[i] = m;
      histogram[m]!++;
      sumLeft = sum;
      sum = sumRight;
      stepLeft = step;
      step = stepRight;
    }
  }
  return histogram;
}

/** The magnitude that the strongest `share` of the pixels reach; at least 24 (about 3 grey levels a channel). */
function levelOfTop(histogram: Uint32Array, share: number): number {
  let total = 0;
  for (const n of histogram) total += n;
  let above = 0;
  for (let i = histogram.length - 1; i > 24; i--) {
    above += histogram[i]!;
    if (above > total * share) return i;
  }
  return 24;
}

/** Pixels no weaker than their neighbours up and down the gradient. */
function localMaxima(
  { widthPx: w, heightPx: h }: Raster,
  { channel, size }: EdgeWorkspace,
  least: number,
): Omit<ContrastEdges, 'straight'> {
  const mask = makeBitMask(w, h);
  const rank = new Int32Array(mask.words.length);
  let count = 0;
  for (let y = 2; y < h - 2; y++) {
    for (let x = 2, i = y * w + 2; x < w - 2; x++, i++) {
      const m = size[i]!;
      if (m < least) continue;
      const gx = slopeAcross(channel, i, w);
      const gy = slopeDown(channel, i, w);
      const ax = Math.abs(gx);
      const ay = Math.abs(gy);
      const step = ay * 2.4 < ax ? 1 : ax * 2.4 < ay ? w : gx > 0 === gy > 0 ? w + 1 : w - 1;
      if (m < size[i - step]! || m <= size[i + step]!) continue;
      mask.words[y * mask.wordsPerRow + (x >> 5)]! |= 1 << (x & 31);
      count++;
    }
  }
  const edges = {
    x: new Uint16Array(count),
    y: new Uint16Array(count),
    gx: new Int16Array(count),
    gy: new Int16Array(count),
    size: new Uint16Array(count),
  };
  for (let at = 0, k = 0; at < mask.words.length; at++) {
    rank[at] = k;
    const y = Math.floor(at / mask.wordsPerRow);
    for (let word = mask.words[at]!; word !== 0; word &= word - 1) {
      const x = 32 * (at - y * mask.wordsPerRow) + 31 - Math.clz32(word & -word);
      const i = y * w + x;
      edges.x[k] = x;
      edges.y[k] = y;
      edges.gx[k] = slopeAcross(channel, i, w);
      edges.gy[k] = slopeDown(channel, i, w);
      edges.size[k++] = size[i]!;
    }
  }
  return { mask, rank, ...edges };
}

function slopeAcross(channel: Int16Array, i: number, w: number): number {
  const right = channel[i - w + 1]! + 2 * channel[i + 1]! + channel[i + w + 1]!;
  return right - channel[i - w - 1]! - 2 * channel[i - 1]! - channel[i + w - 1]!;
}

function slopeDown(channel: Int16Array, i: number, w: number): number {
  const below = channel[i + w - 1]! + 2 * channel[i + w]! + channel[i + w + 1]!;
  return below - channel[i - w - 1]! - 2 * channel[i - w]! - channel[i - w + 1]!;
}

/** How far along the edge, px, and how alike in direction, the edge must be met again to count as one that goes on. */
const AHEAD_PX = [-6, -3, 3, 6] as const;
const ALIKE = 0.85;

/**
 * Whether an edge pixel belongs to an edge that goes on straight for a few pixels: sides of a ribbon do, most edges of
 * crumbs of soil do not, and those are the many. Met again at two of four places along it, a pixel to either side.
 */
function goesOn({ mask, rank, x, y, gx, gy, size }: Omit<ContrastEdges, 'straight'>, k: number): boolean {
  const ux = gx[k]! / size[k]!;
  const uy = gy[k]! / size[k]!;
  let met = 0;
  for (let a = 0; a < 4; a++) {
    const cx = x[k]! - uy * AHEAD_PX[a]! + 0.5;
    const cy = y[k]! + ux * AHEAD_PX[a]! + 0.5;
    for (let side = -1; side <= 1; side++) {
      const px = (cx + side * ux) | 0;
      const py = (cy + side * uy) | 0;
      if (px < 2 || py < 2 || px >= mask.widthPx - 2 || py >= mask.heightPx - 2) continue;
      const j = edgeAt(mask, rank, px, py);
      if (j < 0 || ux * gx[j]! + uy * gy[j]! < ALIKE * size[j]!) continue;
      if (++met === 2) return true;
      break;
    }
  }
  return false;
}
