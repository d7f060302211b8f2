import type { Photo } from '../core/count/photo.ts';
import { square } from '../core/statistics/square.ts';
import { NO_FACTS } from './readPhotoFacts.ts';

/** The camera stands so far beside the tape and so high over it, metres, and looks at its middle. */
const BESIDE_M = 0.5;
const HIGH_M = 1.1;
const FOCAL_PX = 1000;
const TAPE_LENGTH_M = 1.2;
const TAPE_WIDTH_M = 0.025;
const INCH_M = 0.0254;
const MARK_HALF_WIDTH_M = 0.0005;
const ROW_ACROSS_M = 0.09;
const PLANT_EVERY_M = 0.08;

type Colour = readonly [number, number, number];
const SOIL: Colour = [122, 92, 66];
const TAPE: Colour = [232, 200, 60];
const INK: Colour = [25, 25, 25];
const LEAF: Colour = [78, 140, 48];

/**
 * A drawing of a tape with inch marks beside a row of two-leaved plants, seen obliquely, the same at every call. It is
 * there to be measured for practice: nothing is learned of any field from it.
 */
export function practicePhoto(widthPx: number, heightPx: number): Photo {
  const data = new Uint8ClampedArray(4 * widthPx * heightPx);
  const away = Math.sqrt(square(BESIDE_M) + square(HIGH_M));
  const [down, ahead] = [HIGH_M / away, BESIDE_M / away];
  for (let y = 0; y < heightPx; y++) {
    const v = (y - heightPx / 2) / FOCAL_PX;
    const reachM = HIGH_M / (down + v * ahead);
    const acrossM = reachM * (ahead - v * down) - BESIDE_M;
    for (let x = 0; x < widthPx; x++) {
      // A little slanted: a tape never lies along a row of pixels.
      const alongM = (reachM * (x - widthPx / 2)) / FOCAL_PX + TAPE_LENGTH_M / 2 + 0.04 * acrossM;
      const colour = colourAt(alongM, acrossM);
      const light = 1 + 0.22 * grain(Math.floor(180 * alongM), Math.floor(180 * acrossM)) + 0.1 * grain(x, y);
      const i = 4 * (y * widthPx + x);
      for (let channel = 0; channel < 3; channel++) data[i + channel] = colour[channel]! * light;
      data[i + 3] = 255;
    }
  }
  const raster = { widthPx, heightPx, data };
  return { file: 'practice', sha256: '', widthPx, heightPx, raster, photoPxPerRasterPx: 1, facts: NO_FACTS };
}

function colourAt(alongM: number, acrossM: number): Colour {
  if (isLeaf(alongM, acrossM - ROW_ACROSS_M)) return LEAF;
  if (alongM < 0 || alongM > TAPE_LENGTH_M || Math.abs(acrossM) > TAPE_WIDTH_M / 2) return SOIL;
  return isPrint(alongM, acrossM + TAPE_WIDTH_M / 2) ? INK : TAPE;
}

/** Marks at eighths of an inch, longer at halves and longest at inches, and a block where an inch's figure stands. */
function isPrint(alongM: number, fromEdgeM: number): boolean {
  const eighth = Math.round((8 * alongM) / INCH_M);
  const length = eighth % 8 === 0 ? 0.5 : eighth % 4 === 0 ? 0.35 : 0.2;
  const isMark = Math.abs(alongM - (eighth * INCH_M) / 8) < MARK_HALF_WIDTH_M;
  if (isMark && fromEdgeM < length * TAPE_WIDTH_M) return true;
  const pastInchM = alongM - INCH_M * Math.round(alongM / INCH_M);
  const share = fromEdgeM / TAPE_WIDTH_M;
  return pastInchM > -0.006 && pastInchM < -0.002 && share > 0.6 && share < 0.85;
}

/** Two leaves on either side of each stem, every plant turned its own way and not quite at its place. */
function isLeaf(alongM: number, acrossM: number): boolean {
  const plant = Math.round(alongM / PLANT_EVERY_M);
  const turn = grain(plant, 5);
  const dx = alongM - PLANT_EVERY_M * plant - 0.012 * grain(plant, 9);
  const u = Math.abs(dx * Math.cos(turn) + acrossM * Math.sin(turn));
  const v = acrossM * Math.cos(turn) - dx * Math.sin(turn);
  const isBlade = square((u - 0.016) / 0.013) + square(v / 0.008) < 1;
  return isBlade || (u < 0.006 && Math.abs(v) < 0.0015);
}

/** A repeatable number between -1 and 1 for a place. */
function grain(x: number, y: number): number {
  const n = Math.imul(x * 374_761_393 + y * 668_265_263, 1_274_126_177);
  return ((n ^ (n >>> 13)) >>> 0) / 2_147_483_648 - 1;
}
