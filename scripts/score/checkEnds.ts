import { basename } from 'node:path';
import { applyHomography, invertHomography } from '../../src/core/geometry/homography.ts';
import type { Point } from '../../src/core/geometry/point.ts';
import { lineOfLength } from '../../src/core/reference/line/lineOfLength.ts';
import { ribbonPoint } from '../../src/core/reference/line/ribbon.ts';
import { lineOfMarks } from '../../src/core/reference/marks/lineOfMarks.ts';
import { widthsBetween } from '../../src/core/reference/marks/widthsBetween.ts';
import { solvePlane } from '../../src/core/reference/plane/solvePlane.ts';
import type { FoundLine, FoundReference, NoReference } from '../../src/core/reference/reference.ts';
import { greenPoints } from '../../src/core/reference/rows/greenPoints.ts';
import { tapeRibbons } from '../../src/core/reference/tape/tapeRibbons.ts';
import { cuesOf, optionsOf, photoOf } from './checkScale.ts';
import type { Scene, SceneTruth } from './sceneTruth.ts';

/** A strip is the reference when it lies this near it all along, pixels. */
const NEAR_PX = 12;
const PLACES = 21;

/**
 * Reads tapes and rods by what their two ends say alone, as where no print is legible: by their true length in view, and by
 * two hand marks there. How far places along the row are off when the whole is laid right, and what was said of it (1 sd).
 */
export async function checkEnds(scenes: readonly Scene[]): Promise<void> {
  const byLength: Off[] = [];
  const byMarks: Off[] = [];
  for (const scene of scenes) {
    const { truth } = scene;
    if (!['tape', 'rod'].includes(truth.reference.kind) || (truth.reference.readings?.length ?? 0) < 3) continue;
    // a rod of two colours is no strip of one
    if (truth.countArgs.some((arg) => arg.includes('banded'))) continue;
    const photo = await photoOf(scene);
    const { raster } = photo;
    const strip = tapeRibbons(raster).find(({ extent: { ribbon } }) =>
      [0.1, 0.5, 0.9].every((part) => {
        const place = ribbonPoint(ribbon, ribbon.fromS + part * (ribbon.toS - ribbon.fromS), 0);
        return readingAt(truth, place).awayPx < NEAR_PX;
      }),
    );
    if (strip === undefined) continue;
    const { ribbon } = strip.extent;
    const marks = [ribbon.fromS, ribbon.toS].map((s) => {
      const [xPx, yPx] = ribbonPoint(ribbon, s, 0);
      return { xPx, yPx, readingM: readingAt(truth, [xPx, yPx]).readingM };
    });
    const [a, b] = marks.map((m) => m.readingM) as [number, number];
    const [fromM, toM] = [Math.min(a, b), Math.max(a, b)];
    const marked = lineOfMarks(marks, raster.widthPx, raster.heightPx);
    if (marked.kind === 'none') throw new Error(marked.reason);
    const solve = (line: FoundLine) =>
      solvePlane(line, cuesOf(photo, optionsOf(scene)), { ...raster, green: () => greenPoints(raster) });
    const length = off(solve(lineOfLength('tape', strip, toM - fromM, [])), truth, fromM, toM);
    const twoMarks: FoundLine = { ...marked, on: 'strip', ...widthsBetween(marked, ribbon, strip.traced) };
    const mark = off(solve(twoMarks), truth, fromM, toM);
    if (length === null || mark === null) continue;
    const told = ({ farMm, saidMm }: Off): string => `${farMm.toFixed(1).padStart(5)} mm (said ${saidMm.toFixed(1)})`;
    console.log(
      `${basename(scene.path, '.jpg').padEnd(26)} ${(toM - fromM).toFixed(2)} m, worst place by length ${told(length)}, by marks ${told(mark)}`,
    );
    byLength.push(length);
    byMarks.push(mark);
  }
  summary('by length', byLength);
  summary('by marks', byMarks);
}

/** How far the worst place along the row is off, and what was said of it (1 sd), millimetres. */
interface Off {
  readonly farMm: number;
  readonly saidMm: number;
}

function off(found: FoundReference | NoReference, truth: SceneTruth, fromM: number, toM: number): Off | null {
  if (found.kind === 'none') return null;
  const back = invertHomography(truth.photoToGround);
  const trueM = Array.from({ length: PLACES }, (_, i) => fromM + ((toM - fromM) * i) / (PLACES - 1));
  const foundM = trueM.map((m) => applyHomography(found.photoToGround, applyHomography(back, [m, 0]))[0]);
  const way = Math.sign(foundM[PLACES - 1]! - foundM[0]!);
  const offMm = trueM.map((m, i) => 1000 * (way * foundM[i]! - m));
  const mean = offMm.reduce((sum, v) => sum + v, 0) / PLACES;
  return { farMm: Math.max(...offMm.map((v) => Math.abs(v - mean))), saidMm: found.alongErrorMm };
}

function summary(name: string, offs: readonly Off[]): void {
  const sorted = offs.map((o) => o.farMm).sort((a, b) => a - b);
  const mean = sorted.reduce((sum, v) => sum + v, 0) / sorted.length;
  const overSaid = offs.map((o) => o.farMm / o.saidMm);
  const rms = Math.sqrt(overSaid.reduce((sum, v) => sum + v * v, 0) / overSaid.length);
  console.log(
    `${offs.length} ${name}: worst place ${sorted[sorted.length >> 1]?.toFixed(1)} mm off (median), ${mean.toFixed(1)} mm (mean); over what was said ${rms.toFixed(2)} (root mean square), ${overSaid.filter((v) => v > 2).length} beyond twice`,
  );
}

/** The true reading nearest to a photo place, on straight pieces between readings, and how far beside them it lies. */
function readingAt({ reference }: SceneTruth, [x, y]: Point): { readingM: number; awayPx: number } {
  const readings = reference.readings!;
  let best = { readingM: 0, awayPx: Number.POSITIVE_INFINITY };
  for (let i = 0; i + 1 < readings.length; i++) {
    const [a, b] = [readings[i]!, readings[i + 1]!];
    const [dx, dy] = [b.xPx - a.xPx, b.yPx - a.yPx];
    const along = ((x - a.xPx) * dx + (y - a.yPx) * dy) / (dx * dx + dy * dy);
    // the reference may reach a little beyond its first and last reading
    const t = Math.max(i === 0 ? -1 : 0, Math.min(i + 2 === readings.length ? 2 : 1, along));
    const awayPx = Math.hypot(a.xPx + t * dx - x, a.yPx + t * dy - y);
    if (awayPx < best.awayPx) best = { readingM: a.readingM + t * (b.readingM - a.readingM), awayPx };
  }
  return best;
}
