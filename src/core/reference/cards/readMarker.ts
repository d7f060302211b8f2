import { applyHomography } from '../../geometry/homography.ts';
import type { Point } from '../../geometry/point.ts';
import { linearLight } from '../../raster/linearLight.ts';
import type { Raster } from '../../raster/raster.ts';
import { CARD_IDS, MARKER_CELLS, markerCells } from './cardDesign.ts';
import { cellsToPhoto } from './cellsToPhoto.ts';
import type { Quad } from './darkQuads.ts';

/** The codes of the family differ in 12 of 36 bits or more; so many wrong cells still tell them apart. */
const MOST_WRONG_BITS = 5;
/** Of 28 border cells so many must be black, and of as many places on the paper beside them so many white. */
const LEAST_BORDER = 23;
const LEAST_PAPER = 20;

const CARDS = CARD_IDS.map((id) => ({ id, cells: markerCells(id).flat() }));

/**
 * Which card a dark four-cornered patch is, and its corners from the marker's own top left; null when it is none. Cells
 * are compared with the middle between the black border and the white paper around.
 */
export function readMarker(photo: Raster, quad: Quad): { id: number; corners: Quad; wrongBits: number } | null {
  if (!darkOnWhite(photo, quad)) return null;
  const seen = whiteCells(photo, quad);
  if (seen === null) return null;
  let cells = seen;
  let best: { id: number; corners: Quad; wrongBits: number } | null = null;
  for (let turn = 0; turn < 4; turn++) {
    const corners = [0, 1, 2, 3].map((k) => quad[(k + turn) % 4]!) as unknown as Quad;
    for (const card of CARDS) {
      const wrongBits = card.cells.reduce((sum, white, i) => sum + (white !== cells[i] && !isBorder(i) ? 1 : 0), 0);
      if (wrongBits <= MOST_WRONG_BITS && (best === null || wrongBits < best.wrongBits)) {
        best = { id: card.id, corners, wrongBits };
      }
    }
    cells = turned(cells);
  }
  return best;
}

/** Of 16 places around an outline. */
const MOST_BAD = 6;

/** Along each side of an outline, shares of the side. */
const LOOK_AT = [0.15, 0.38, 0.62, 0.85];

/** A quick look: black just inside and white just outside of most of the outline. */
function darkOnWhite(photo: Raster, [a, b, c, d]: Quad): boolean {
  const middleX = (a[0] + b[0] + c[0] + d[0]) / 4;
  const middleY = (a[1] + b[1] + c[1] + d[1]) / 4;
  let bad = sideBad(photo, a, b, middleX, middleY);
  if (bad <= MOST_BAD) bad += sideBad(photo, b, c, middleX, middleY);
  if (bad <= MOST_BAD) bad += sideBad(photo, c, d, middleX, middleY);
  if (bad <= MOST_BAD) bad += sideBad(photo, d, a, middleX, middleY);
  return bad <= MOST_BAD;
}

function sideBad(photo: Raster, a: Point, b: Point, middleX: number, middleY: number): number {
  let bad = 0;
  for (let k = 0; k < LOOK_AT.length; k++) {
    const t = LOOK_AT[k]!;
    const x = a[0] + (b[0] - a[0]) * t - middleX;
    const y = a[1] + (b[1] - a[1]) * t - middleY;
    const inside = linearLight(photo, middleX + 0.88 * x, middleY + 0.88 * y);
    const outside = linearLight(photo, middleX + 1.14 * x, middleY + 1.14 * y);
    if (!(outside > 2 * inside)) bad++;
  }
  return bad;
}

function whiteCells(photo: Raster, corners: Quad): boolean[] | null {
  const n = MARKER_CELLS;
  const map = cellsToPhoto(corners);
  if (map === null) return null;
  const lightAt = (x: number, y: number): number => linearLight(photo, ...applyHomography(map, [x, y]));
  const cell = (x: number, y: number): number =>
    (lightAt(x, y) +
      lightAt(x - 0.2, y - 0.2) +
      lightAt(x + 0.2, y - 0.2) +
      lightAt(x - 0.2, y + 0.2) +
      lightAt(x + 0.2, y + 0.2)) /
    5;
  const light = Array.from({ length: n * n }, (_, i) => cell((i % n) + 0.5, Math.floor(i / n) + 0.5));
  const border = light.filter((_, i) => isBorder(i));
  // a photo may end right beside the black square
  const paper = Array.from({ length: n - 1 }, (_, k) => k + 1)
    .flatMap((t) => [lightAt(t, -0.6), lightAt(n + 0.6, t), lightAt(t, n + 0.6), lightAt(-0.6, t)])
    .filter(Number.isFinite);
  if (!light.every(Number.isFinite)) return null;
  const [black, white] = [median(border), median(paper)];
  const middle = (black + white) / 2;
  if (white < 0.02 || white < 2.5 * black) return null;
  if (border.filter((v) => v < middle).length < LEAST_BORDER) return null;
  if (paper.filter((v) => v > middle).length < LEAST_PAPER) return null;
  return light.map((v) => v > middle);
}

/** The same cells seen from the next corner clockwise. */
function turned(cells: readonly boolean[]): boolean[] {
  const n = MARKER_CELLS;
  return cells.map((_, i) => cells[(i % n) * n + n - 1 - Math.floor(i / n)]!);
}

function isBorder(i: number): boolean {
  const [row, column] = [Math.floor(i / MARKER_CELLS), i % MARKER_CELLS];
  return row === 0 || column === 0 || row === MARKER_CELLS - 1 || column === MARKER_CELLS - 1;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1]!;
}
