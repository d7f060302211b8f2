import type { Point } from '../../src/core/geometry/point.ts';
import type { Raster } from '../../src/core/raster/raster.ts';

/** Colour 0 to 255 of a strip at metres along and across it (0 is its middle); null where it has none. */
export type StripPaint = (alongM: number, acrossM: number) => readonly [number, number, number] | null;

export interface LineScene {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly focalPx: number;
  /** Camera over the ground, metres along, across and up; it looks at `lookAtM` on the ground. */
  readonly cameraM: readonly [number, number, number];
  readonly lookAtM: readonly [number, number];
  readonly rollDeg: number;
  readonly strips: readonly {
    readonly paint: StripPaint;
    readonly fromM: number;
    readonly toM: number;
    readonly widthM: number;
    /** Middle of a bow to the side, metres, over its length. */
    readonly bowM: number;
    readonly acrossM: number;
    readonly turnDeg: number;
  }[];
  readonly soil: readonly [number, number, number];
  readonly roughness: number;
  readonly leaves: number;
  readonly straws: number;
  /** Share of the along axis that lies in shadow, in bands. */
  readonly shadows: number;
  readonly noise: number;
  readonly seed: number;
}

/** A small seeded generator of numbers in 0..1 (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let a = seed >>> 0;
  return () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

/** Where a ground point is seen. */
export function groundToPhoto(scene: LineScene, alongM: number, acrossM: number): Point {
  const { right, down, ahead } = cameraAxes(scene);
  const d = [alongM - scene.cameraM[0], acrossM - scene.cameraM[1], -scene.cameraM[2]] as const;
  const z = dot(ahead, d);
  return [
    (scene.focalPx * dot(right, d)) / z + (scene.widthPx - 1) / 2,
    (scene.focalPx * dot(down, d)) / z + (scene.heightPx - 1) / 2,
  ];
}

/** Draws bare soil with strips lying on it, leaves over both, by casting a ray per pixel. Not a photograph. */
export function drawLineScene(scene: LineScene): Raster {
  const { widthPx, heightPx } = scene;
  const data = new Uint8Array(widthPx * heightPx * 4);
  const random = seeded(scene.seed);
  const { right, down, ahead } = cameraAxes(scene);
  const leaves = scatter(scene.leaves, random, 0.012, 0.05, 1.6);
  const straws = scatter(scene.straws, random, 0.03, 0.12, 14);
  const waves = Array.from({ length: 5 }, () => [random() * 20, random() * 20, random() * 7] as const);
  const out = [0, 0, 0];
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      let r = 0;
      let g = 0;
      let b = 0;
      let samples = 0;
      for (let k = 0; k < 4; k++) {
        const px = (x + (k & 1) / 2 - 0.25 - (widthPx - 1) / 2) / scene.focalPx;
        const py = (y + (k >> 1) / 2 - 0.25 - (heightPx - 1) / 2) / scene.focalPx;
        const rz = right[2] * px + down[2] * py + ahead[2];
        const t = -scene.cameraM[2] / Math.min(rz, -1e-3);
        const gx = scene.cameraM[0] + t * (right[0] * px + down[0] * py + ahead[0]);
        const gy = scene.cameraM[1] + t * (right[1] * px + down[1] * py + ahead[1]);
        shade(gx, gy);
        r += out[0]!;
        g += out[1]!;
        b += out[2]!;
        samples++;
      }
      const at = (y * widthPx + x) * 4;
      const n = scene.noise * (random() + random() + random() - 1.5) * 2;
      data[at] = clamp(r / samples + n + scene.noise * (random() - 0.5));
      data[at + 1] = clamp(g / samples + n + scene.noise * (random() - 0.5));
      data[at + 2] = clamp(b / samples + n + scene.noise * (random() - 0.5));
      data[at + 3] = 255;
    }
  }
  return { widthPx, heightPx, data };

  function shade(gx: number, gy: number): void {
    let wave = 0;
    for (const [wx, wy, phase] of waves) wave += Math.sin(gx * wx * 3 + gy * wy * 3 + phase);
    const grain = hash(Math.floor(gx * 260), Math.floor(gy * 260)) + hash(Math.floor(gx * 70), Math.floor(gy * 70));
    const lit = 1 + scene.roughness * (0.4 * (grain - 1) + 0.05 * wave);
    let colour: readonly [number, number, number] = [scene.soil[0] * lit, scene.soil[1] * lit, scene.soil[2] * lit];
    const straw = covering(straws, gx, gy);
    if (straw >= 0) colour = [190 - straw * 50, 170 - straw * 50, 120 - straw * 40];
    for (const strip of scene.strips) {
      const turn = (strip.turnDeg * Math.PI) / 180;
      const along = gx * Math.cos(turn) + (gy - strip.acrossM) * Math.sin(turn);
      const mid = (strip.fromM + strip.toM) / 2;
      const half = (strip.toM - strip.fromM) / 2;
      const bow = strip.bowM * (1 - ((along - mid) / half) ** 2);
      const across = -gx * Math.sin(turn) + (gy - strip.acrossM) * Math.cos(turn) - bow;
      if (along < strip.fromM || along > strip.toM || Math.abs(across) > strip.widthM / 2) continue;
      colour = strip.paint(along, across) ?? colour;
    }
    const leaf = covering(leaves, gx, gy);
    if (leaf >= 0) colour = [50 + 40 * leaf, 110 + 50 * leaf, 40 + 20 * leaf];
    const shadow = scene.shadows > 0 && ((((gx + 0.3 * gy) * 1.7) % 1) + 1) % 1 < scene.shadows ? 0.45 : 1;
    out[0] = colour[0] * shadow;
    out[1] = colour[1] * shadow;
    out[2] = colour[2] * shadow * (shadow < 1 ? 1.1 : 1);
  }
}

interface Blob {
  readonly x: number;
  readonly y: number;
  readonly cos: number;
  readonly sin: number;
  readonly long: number;
  readonly short: number;
  readonly tone: number;
}

type BlobGrid = Map<string, Blob[]>;
const CELL = 0.15;

function scatter(count: number, random: () => number, least: number, most: number, slimness: number): BlobGrid {
  const grid: BlobGrid = new Map();
  for (let i = 0; i < count; i++) {
    const angle = random() * Math.PI;
    const long = least + (most - least) * random();
    const blob = {
      x: random() * 4.4 - 0.6,
      y: (random() - 0.5) * 1.2,
      cos: Math.cos(angle),
      sin: Math.sin(angle),
      long,
      short: long / slimness,
      tone: random(),
    };
    for (let cx = Math.floor((blob.x - long) / CELL); cx <= Math.floor((blob.x + long) / CELL); cx++) {
      for (let cy = Math.floor((blob.y - long) / CELL); cy <= Math.floor((blob.y + long) / CELL); cy++) {
        const key = `${cx},${cy}`;
        const cell = grid.get(key);
        if (cell) cell.push(blob);
        else grid.set(key, [blob]);
      }
    }
  }
  return grid;
}

function covering(grid: BlobGrid, x: number, y: number): number {
  if (grid.size === 0) return -1;
  const cell = grid.get(`${Math.floor(x / CELL)},${Math.floor(y / CELL)}`);
  if (!cell) return -1;
  for (const b of cell) {
    const u = ((x - b.x) * b.cos + (y - b.y) * b.sin) / b.long;
    const v = ((y - b.y) * b.cos - (x - b.x) * b.sin) / b.short;
    if (u * u + v * v < 1) return b.tone;
  }
  return -1;
}

function cameraAxes(scene: LineScene) {
  const [cx, cy, cz] = scene.cameraM;
  const ahead = unit([scene.lookAtM[0] - cx, scene.lookAtM[1] - cy, -cz]);
  const up: V = Math.abs(ahead[2]) > 0.999 ? [0, 1, 0] : [0, 0, 1];
  const side = unit(cross(ahead, up));
  const below = cross(ahead, side);
  const roll = (scene.rollDeg * Math.PI) / 180;
  const mix = (a: V, b: V, s: number, t: number): V => [a[0] * s + b[0] * t, a[1] * s + b[1] * t, a[2] * s + b[2] * t];
  return {
    right: mix(side, below, Math.cos(roll), Math.sin(roll)),
    down: mix(side, below, -Math.sin(roll), Math.cos(roll)),
    ahead,
  };
}

type V = readonly [number, number, number];
const dot = (a: V, b: V): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: V, b: V): V => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a: V): V => {
  const n = Math.sqrt(dot(a, a));
  return [a[0] / n, a[1] / n, a[2] / n];
};
const clamp = (v: number): number => Math.max(0, Math.min(255, Math.round(v)));

function hash(x: number, y: number): number {
  let h = Math.imul(x, 374761393) + Math.imul(y, 668265263);
  h = Math.imul(h ^ (h >>> 13), 1274126177);
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296;
}
