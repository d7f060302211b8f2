import { basename } from 'node:path';
import { applyHomography, invertHomography } from '../../src/core/geometry/homography.ts';
import type { Point } from '../../src/core/geometry/point.ts';
import { lineOfLength } from '../../src/core/reference/line/lineOfLength.ts';
import { ribbonPoint } from '../../src/core/reference/line/ribbon.ts';
import { solvePlane } from '../../src/core/reference/plane/solvePlane.ts';
import { greenPoints } from '../../src/core/reference/rows/greenPoints.ts';
import { tapeRibbons } from '../../src/core/reference/tape/tapeRibbons.ts';
import { cuesOf, optionsOf, photoOf } from './checkScale.ts';
import type { Scene, SceneTruth } from './sceneTruth.ts';

/** A strip is the reference when it lies this near it all along, pixels. */
const NEAR_PX = 12;
const PLACES = 21;

/**
 * Reads tapes and rods by what their two ends say alone, their true length in view named, as where no print is legible: how
 * far places along the row are off when the whole is laid right, and what was said of it (1 sd).
 */
export async function checkEnds(scenes: readonly Scene[]): Promise<void> {
  const worst: number[] = [];
  const overSaid: number[] = [];
  for (const scene of scenes) {
    const { truth } = scene;
    if (!['tape', 'rod'].includes(truth.reference.kind) || (truth.reference.readings?.length ?? 0) < 3) continue;
    // a rod of two colours is no strip of one
    if (truth.countArgs.some((arg) => arg.includes('banded'))) continue;
    const photo = await photoOf(scene);
    const strip = tapeRibbons(photo.raster).find(({ extent: { ribbon } }) =>
      [0.1, 0.5, 0.9].every((part) => {
        const place = ribbonPoint(ribbon, ribbon.fromS + part * (ribbon.toS - ribbon.fromS), 0);
        return readingAt(truth, place).awayPx < NEAR_PX;
      }),
    );
    if (strip === undefined) continue;
    const { ribbon } = strip.extent;
    const ends = [ribbon.fromS, ribbon.toS].map((s) => readingAt(truth, ribbonPoint(ribbon, s, 0)).readingM);
    const [fromM, toM] = [Math.min(...ends), Math.max(...ends)];
    const found = solvePlane(lineOfLength('tape', strip, toM - fromM, []), cuesOf(photo, optionsOf(scene)), {
      ...photo.raster,
      green: () => greenPoints(photo.raster),
    });
    if (found.kind === 'none') continue;
    const back = invertHomography(truth.photoToGround);
    const trueM = Array.from({ length: PLACES }, (_, i) => fromM + ((toM - fromM) * i) / (PLACES - 1));
    const foundM = trueM.map((m) => applyHomography(found.photoToGround, applyHomography(back, [m, 0]))[0]);
    const way = Math.sign(foundM[PLACES - 1]! - foundM[0]!);
    const offMm = trueM.map((m, i) => 1000 * (way * foundM[i]! - m));
    const mean = offMm.reduce((sum, v) => sum + v, 0) / PLACES;
    const farMm = Math.max(...offMm.map((v) => Math.abs(v - mean)));
    console.log(
      `${basename(scene.path, '.jpg').padEnd(26)} ${(toM - fromM).toFixed(2)} m, worst place ${farMm.toFixed(1).padStart(5)} mm off, said ${found.alongErrorMm.toFixed(1)}`,
    );
    worst.push(farMm);
    overSaid.push(farMm / found.alongErrorMm);
  }
  const sorted = [...worst].sort((a, b) => a - b);
  const rms = Math.sqrt(overSaid.reduce((sum, v) => sum + v * v, 0) / overSaid.length);
  console.log(
    `\n${worst.length} by their ends: worst place ${sorted[worst.length >> 1]?.toFixed(1)} mm off (median), ${(worst.reduce((sum, v) => sum + v, 0) / worst.length).toFixed(1)} mm (mean); over what was said ${rms.toFixed(2)} (root mean square), ${overSaid.filter((v) => v > 2).length} beyond twice`,
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
