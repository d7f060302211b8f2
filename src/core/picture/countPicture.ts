import type { CountedPlant } from '../count/countResult.ts';
import type { PhotoAnalysis } from '../count/photoAnalysis.ts';
import { applyHomography, invertHomography } from '../geometry/homography.ts';
import type { Point } from '../geometry/point.ts';
import { groundToStrip } from '../straighten/stripGround.ts';
import { METRES_PER_FOOT, METRES_PER_INCH } from '../units/conversions.ts';
import { formatLength, type LengthSystem } from '../units/formatLength.ts';
import { spacingHistogram } from './histogram.ts';
import { plantMark } from './plantMark.ts';
import { px, svgText, wrapText } from './svg.ts';

/** A piece of the photo or of the strip to paint under the drawing, by whoever can paint. */
export interface PictureLayer {
  readonly source: 'photo' | 'strip';
  /** Part of the source, in its own pixels. */
  readonly cut: { readonly x: number; readonly y: number; readonly widthPx: number; readonly heightPx: number };
  /** Where it goes on the page. */
  readonly put: { readonly x: number; readonly y: number; readonly widthPx: number; readonly heightPx: number };
}

export interface CountPicture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly layers: readonly PictureLayer[];
  /** Everything drawn over the layers. */
  readonly svg: string;
}

const PAGE_PX = 1800;
const EDGE_PX = 24;
/** Soil shown to each side of the row in the straightened pieces, metres. */
const ROW_HALF_WIDTH_M = 0.22;
/** Length of row in one straightened piece, metres. */
const PIECE_M = 1.3;

/**
 * The picture that shows why: headline numbers, the photo with every plant numbered and the reference readings,
 * the straightened row in pieces with gaps drawn, and the spacing histogram. Pure: returns what to paint where.
 */
export function countPicture(analysis: PhotoAnalysis, headline: readonly string[], system: LengthSystem): CountPicture {
  const { result, strip } = analysis;
  const inner = PAGE_PX - 2 * EDGE_PX;
  const numbers = numberPlants(result.plants);
  const layers: PictureLayer[] = [];
  let svg = '';
  let y = EDGE_PX;

  headline.forEach((text, i) => {
    const sizePx = i === 0 ? 44 : 26;
    for (const line of wrapText(text, sizePx, inner)) {
      y += sizePx + 8;
      svg += svgText(EDGE_PX, y, line, { sizePx, bold: i === 0 }, false);
    }
  });
  y += 20;

  const photoScale = Math.min(inner / result.photo.widthPx, 1300 / result.photo.heightPx);
  const photoBox = {
    x: EDGE_PX,
    y,
    widthPx: Math.round(result.photo.widthPx * photoScale),
    heightPx: Math.round(result.photo.heightPx * photoScale),
  };
  layers.push({
    source: 'photo',
    cut: { x: 0, y: 0, widthPx: result.photo.widthPx, heightPx: result.photo.heightPx },
    put: photoBox,
  });
  svg += drawOnPhoto(
    analysis,
    numbers,
    (p) => [photoBox.x + p[0] * photoScale, photoBox.y + p[1] * photoScale],
    system,
  );
  y += photoBox.heightPx + 20;

  if (strip !== null && result.stretch !== null) {
    const pieces = pieceBounds(result.stretch.fromM, result.stretch.toM);
    const rowM = rowAcross(result.plants);
    for (const [fromM, toM] of pieces) {
      const piece = stripPiece(analysis, fromM, toM, rowM, { x: EDGE_PX, y, widthPx: inner });
      layers.push(piece.layer);
      svg += piece.svg(numbers, system);
      y += piece.layer.put.heightPx + 12;
    }
  }

  const along = result.plants
    .filter((p) => p.kind === 'plant' && p.inStretch && p.alongM !== null)
    .map((p) => p.alongM as number);
  along.sort((a, b) => a - b);
  const spacings = along.slice(1).map((a, i) => a - along[i]!);
  const binM = system === 'imperial' ? METRES_PER_INCH : 0.025;
  svg += spacingHistogram(spacings, binM, (m) => formatLength(m, system), {
    x: EDGE_PX,
    y,
    widthPx: inner,
    heightPx: 250,
  });
  y += 250 + EDGE_PX;
  return { widthPx: PAGE_PX, heightPx: Math.ceil(y), layers, svg };
}

/** Counted plants are numbered along the row; others carry no number. */
function numberPlants(plants: readonly CountedPlant[]): ReadonlyMap<string, number> {
  const counted = plants.filter((p) => p.kind === 'plant' && p.inStretch);
  counted.sort((a, b) => (a.alongM ?? a.xPx) - (b.alongM ?? b.xPx));
  return new Map(counted.map((p, i) => [p.id, i + 1]));
}

function drawOnPhoto(
  { result }: PhotoAnalysis,
  numbers: ReadonlyMap<string, number>,
  place: (photoPx: Point) => Point,
  system: LengthSystem,
): string {
  let out = '';
  const { endsPx, endsM, photoToGround } = result.reference;
  if (endsPx !== null && endsM !== null) {
    const [a, b] = [place(endsPx[0]), place(endsPx[1])];
    out += `<path d="M${px(a[0])} ${px(a[1])}L${px(b[0])} ${px(b[1])}" stroke="#ffffff" stroke-width="3" stroke-opacity="0.8"/>`;
    if (photoToGround !== null) out += readingTicks(photoToGround, endsM, place, system);
  }
  for (const plant of result.plants) {
    if (!plant.inStretch) continue;
    const [x, y] = place([plant.xPx, plant.yPx]);
    out += plantMark(x, y, 9, { ...plant, number: numbers.get(plant.id) ?? 0 });
  }
  return out;
}

/** The reference's readings as the tool understands them: a wrong scale shows at a glance. */
function readingTicks(
  photoToGround: NonNullable<PhotoAnalysis['result']['reference']['photoToGround']>,
  [fromM, toM]: readonly [number, number],
  place: (photoPx: Point) => Point,
  system: LengthSystem,
): string {
  const groundToPhoto = invertHomography(photoToGround);
  const step = system === 'imperial' ? METRES_PER_FOOT : 0.25;
  let out = '';
  for (let i = Math.ceil(Math.min(fromM, toM) / step - 1e-6); i * step <= Math.max(fromM, toM) + 1e-6; i++) {
    const [x, y] = place(applyHomography(groundToPhoto, [i * step, 0]));
    out += `<circle cx="${px(x)}" cy="${px(y)}" r="5" fill="#ffffff" stroke="#000000" stroke-width="2"/>`;
    out += svgText(x, y + 26, formatLength(i * step, system), { sizePx: 18, anchor: 'middle' }, true);
  }
  return out;
}

function pieceBounds(fromM: number, toM: number): [number, number][] {
  const n = Math.max(1, Math.ceil((toM - fromM) / PIECE_M - 0.15));
  const each = (toM - fromM) / n;
  return Array.from({ length: n }, (_, i) => [fromM + i * each, fromM + (i + 1) * each]);
}

function rowAcross(plants: readonly CountedPlant[]): number {
  const across = plants.filter((p) => p.kind === 'plant' && p.acrossM !== null).map((p) => p.acrossM as number);
  across.sort((a, b) => a - b);
  return across[across.length >> 1] ?? 0;
}

function stripPiece(
  { result, strip }: PhotoAnalysis,
  fromM: number,
  toM: number,
  rowM: number,
  at: { readonly x: number; readonly y: number; readonly widthPx: number },
) {
  if (strip === null) throw new Error('a straightened piece needs a strip');
  const [left, top] = groundToStrip(strip, [fromM - 0.04, rowM + ROW_HALF_WIDTH_M]);
  const [right, bottom] = groundToStrip(strip, [toM + 0.04, rowM - ROW_HALF_WIDTH_M]);
  const { widthPx, heightPx } = strip.raster;
  const x0 = Math.max(0, Math.floor(left));
  const y0 = Math.max(0, Math.floor(top));
  const cut = {
    x: x0,
    y: y0,
    widthPx: Math.max(1, Math.min(widthPx, Math.ceil(right)) - x0),
    heightPx: Math.max(1, Math.min(heightPx, Math.ceil(bottom)) - y0),
  };
  const scale = at.widthPx / cut.widthPx;
  const put = { x: at.x, y: at.y, widthPx: at.widthPx, heightPx: Math.max(1, Math.round(cut.heightPx * scale)) };
  const place = (ground: Point): Point => {
    const [sx, sy] = groundToStrip(strip, ground);
    return [put.x + (sx - cut.x) * scale, put.y + (sy - cut.y) * scale];
  };
  const svg = (numbers: ReadonlyMap<string, number>, system: LengthSystem): string => {
    let out = '';
    for (const gap of result.gaps) {
      const a = Math.max(gap.fromM, fromM);
      const b = Math.min(gap.toM, toM);
      if (b - a < 0.03) continue;
      const [ax, ay] = place([a, rowM]);
      const [bx] = place([b, rowM]);
      out += `<path d="M${px(ax)} ${px(ay)}H${px(bx)}M${px(ax)} ${px(ay - 16)}V${px(ay + 16)}M${px(bx)} ${px(ay - 16)}V${px(ay + 16)}" stroke="#ffffff" stroke-width="5"/>`;
      out += svgText(
        (ax + bx) / 2,
        ay - 14,
        `gap ${formatLength(gap.lengthM, system)}`,
        { sizePx: 26, anchor: 'middle' },
        true,
      );
    }
    for (const plant of result.plants) {
      if (plant.alongM === null || plant.acrossM === null || !plant.inStretch) continue;
      if (plant.alongM < fromM || plant.alongM > toM || Math.abs(plant.acrossM - rowM) > ROW_HALF_WIDTH_M) continue;
      const [x, y] = place([plant.alongM, plant.acrossM]);
      out += plantMark(x, y, 12, { ...plant, number: numbers.get(plant.id) ?? 0 });
    }
    const step = system === 'imperial' ? METRES_PER_FOOT : 0.25;
    for (let i = Math.ceil(fromM / step - 1e-6); i * step <= toM + 1e-6; i++) {
      const [x] = place([i * step, rowM]);
      out += `<path d="M${px(x)} ${px(put.y + put.heightPx)}v-16" stroke="#ffffff" stroke-width="4"/>`;
      out += svgText(x + 6, put.y + put.heightPx - 8, formatLength(i * step, system), { sizePx: 20 }, true);
    }
    return out;
  };
  return { layer: { source: 'strip', cut, put } satisfies PictureLayer as PictureLayer, svg };
}
