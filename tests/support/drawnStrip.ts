import type { CameraStand } from '../../src/core/geometry/cameraStand.ts';
import type { Homography } from '../../src/core/geometry/homography.ts';
import type { Point } from '../../src/core/geometry/point.ts';
import type { PlantSearch } from '../../src/core/plants/detection.ts';
import type { Raster } from '../../src/core/raster/raster.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';

export const MM_PER_PX = 1.5;
const CELL_PX = 6;
const IDENTITY: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

export const ANYWHERE: PlantSearch = { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null };

/** A repeatable grain between -1 and 1 for a place. */
function grain(x: number, y: number): number {
  const n = Math.imul(x * 374761393 + y * 668265263, 1274126177);
  return (((n ^ (n >>> 13)) >>> 0) % 1000) / 500 - 1;
}

export interface StripLook {
  readonly camera?: CameraStand | null;
  /** Multiplies every channel. */
  readonly light?: number;
  readonly soil?: readonly [number, number, number];
}

/** A strip in which `colourAt` paints what is not soil. */
export function paintedStrip(
  widthPx: number,
  heightPx: number,
  colourAt: (x: number, y: number) => readonly [number, number, number] | null,
  { camera = null, light = 1, soil = [112, 88, 66] }: StripLook = {},
): Strip {
  const data = new Uint8ClampedArray(widthPx * heightPx * 4);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const k = light * (1 + 0.18 * grain(x >> 2, y >> 2) + 0.08 * grain(x, y));
      const [r, g, b] = colourAt(x, y) ?? soil;
      data.set([r * k, g * k, b * k, 255], 4 * (y * widthPx + x));
    }
  }
  return stripOf({ widthPx, heightPx, data }, camera);
}

export function stripOf(raster: Raster, camera: CameraStand | null = null): Strip {
  return {
    raster,
    mmPerPx: MM_PER_PX,
    alongAtLeftM: 0,
    acrossAtTopM: (raster.heightPx * MM_PER_PX) / 2000,
    photoToStrip: IDENTITY,
    stripToPhoto: IDENTITY,
    camera,
    worstPhotoPxPerStripPx: 1,
  };
}

const PAINT: Readonly<Record<string, readonly [number, number, number]>> = {
  G: [74, 128, 42],
  y: [170, 178, 80],
  s: [205, 184, 138],
  d: [50, 40, 32],
};

/**
 * A strip drawn as text, one letter for 9 x 9 mm: `.` soil, `G` leaf, `y` yellow-green cotyledon, `s` straw, `d` shade.
 * Corners of leaf cells are rounded off, so that lobes have waists.
 */
export function stripFromText(text: string, look: StripLook = {}): Strip {
  const rows = text
    .split('\n')
    .map((row) => row.trim())
    .filter((row) => row !== '');
  return paintedStrip(
    rows[0]!.length * CELL_PX,
    rows.length * CELL_PX,
    (x, y) => PAINT[rows[Math.floor(y / CELL_PX)]![Math.floor(x / CELL_PX)]!] ?? null,
    look,
  );
}

export interface DrawnPlant {
  readonly alongMm: number;
  readonly downMm: number;
  readonly turn: number;
  readonly sizeMm?: number;
}

/** Two opposite leaves on petioles around each place, seen straight down; `sizeMm` is the length of a leaf. */
export function stripOfPlants(widthMm: number, heightMm: number, plants: readonly DrawnPlant[], look: StripLook = {}) {
  const inLeaf = (x: number, y: number): boolean =>
    plants.some(({ alongMm, downMm, turn, sizeMm = 38 }) => {
      const dx = x * MM_PER_PX - alongMm;
      const dy = y * MM_PER_PX - downMm;
      const u = dx * Math.cos(turn) + dy * Math.sin(turn);
      const v = -dx * Math.sin(turn) + dy * Math.cos(turn);
      const t = (Math.abs(u) - 6 - sizeMm / 2) / (sizeMm / 2);
      return t * t + (v / (0.38 * sizeMm)) ** 2 <= 1 || (Math.abs(u) < 8 && Math.abs(v) < 1.6);
    });
  return paintedStrip(
    Math.round(widthMm / MM_PER_PX),
    Math.round(heightMm / MM_PER_PX),
    (x, y) => (inLeaf(x, y) ? PAINT.G! : null),
    look,
  );
}

export function mirrored({ widthPx, heightPx, data }: Raster): Raster {
  const out = new Uint8Array(data.length);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const from = 4 * (y * widthPx + widthPx - 1 - x);
      out.set(data.subarray(from, from + 4), 4 * (y * widthPx + x));
    }
  }
  return { widthPx, heightPx, data: out };
}

/** Marks of kind "plant" as text: `P` where a base lies, in the cells of `stripFromText`. */
export function basesAsText(strip: Strip, bases: readonly Point[]): string {
  const columns = strip.raster.widthPx / CELL_PX;
  const rows = strip.raster.heightPx / CELL_PX;
  const cells = Array.from({ length: rows }, () => new Array<string>(columns).fill('.'));
  for (const [x, y] of bases) cells[Math.floor(y / CELL_PX)]![Math.floor(x / CELL_PX)] = 'P';
  return cells.map((row) => row.join('')).join('\n');
}
