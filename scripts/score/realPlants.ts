import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Homography } from '../../src/core/geometry/homography.ts';
import { countInterval } from '../../src/core/plants/countInterval.ts';
import { findPlantsByColour } from '../../src/core/plants/findPlantsByColour.ts';
import type { Raster } from '../../src/core/raster/raster.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { matchPoints } from './matchPoints.ts';

interface Labelled {
  readonly file: string;
  readonly plants: readonly {
    x: number;
    y: number;
    w?: number;
    h?: number;
    class: string;
    edge?: boolean;
    unsure?: boolean;
  }[];
  readonly ignore?: readonly { x: number; y: number; r: number }[];
}

/** Millimetres per pixel taken for each folder (none is recorded) and half a seedling's width in millimetres. */
const FOLDERS: Readonly<
  Record<string, { readonly crop: string; readonly mmPerPx: number; readonly factors: readonly number[] }>
> = {
  'cotton-rows': { crop: 'cotton', mmPerPx: 1.4, factors: [0.7, 1, 1.4] },
  'sesame-rows': { crop: 'crop', mmPerPx: 1.8, factors: [0.7, 1, 1.4] },
};
const HALF_WIDTH_PX = 15;
const IDENTITY: Homography = [1, 0, 0, 0, 1, 0, 0, 0, 1];

/** A photo straight down, taken for a strip of the given scale. */
function pseudoStrip(raster: Raster, mmPerPx: number): Strip {
  return {
    raster,
    mmPerPx,
    alongAtLeftM: 0,
    acrossAtTopM: (raster.heightPx * mmPerPx) / 2000,
    photoToStrip: IDENTITY,
    stripToPhoto: IDENTITY,
    camera: null,
    worstPhotoPxPerStripPx: 1,
  };
}

/** Real labelled photos at three assumed scales: `edge` plants and `ignore` circles are neither hits nor misses. */
export async function checkRealPlants(folder: string): Promise<void> {
  console.log('\nreal photos (crowns; other crops; scale assumed)');
  for (const [name, { crop, mmPerPx, factors }] of Object.entries(FOLDERS)) {
    const list = join(folder, name, 'counts.json');
    if (!existsSync(list)) continue;
    const photos = JSON.parse(readFileSync(list, 'utf8')) as Labelled[];
    for (const factor of factors) {
      const sum = { hit: 0, wrong: 0, missed: 0, sureMissed: 0, sureHit: 0, error: 0, held: 0 };
      for (const entry of photos) {
        const photo = await readPhoto(join(folder, name, entry.file));
        if (!photo.ok) throw new Error(photo.found);
        const found = findPlantsByColour(pseudoStrip(photo.value.raster, mmPerPx * factor), {
          coveredStripPx: [],
          rowAcrossM: null,
          rowWidthM: null,
          seedSpacingM: null,
        });
        const marks = found.detections.filter((d) => d.kind === 'plant').map((d) => d.crownStripPx);
        const plants = entry.plants.filter((p) => p.class === crop);
        const within = Math.max(HALF_WIDTH_PX, ...plants.map((p) => Math.min(45, ((p.w ?? 0) + (p.h ?? 0)) / 4)));
        const m = matchPoints(
          marks,
          plants.map((p) => [p.x, p.y]),
          within,
        );
        const hits = m.pairs.filter(([, t]) => plants[t]!.edge !== true);
        const missed = m.missed.filter((t) => plants[t]!.edge !== true);
        const wrong = m.falseAlarms.filter((f) => {
          const [x, y] = marks[f]!;
          if ((entry.ignore ?? []).some((c) => Math.hypot(c.x - x, c.y - y) <= c.r)) return false;
          return !plants.some((p) => p.edge === true && Math.hypot(p.x - x, p.y - y) <= 1.5 * within);
        });
        sum.hit += hits.length;
        sum.wrong += wrong.length;
        sum.missed += missed.length;
        sum.sureHit += hits.filter(([, t]) => plants[t]!.unsure !== true).length;
        sum.sureMissed += missed.filter((t) => plants[t]!.unsure !== true).length;
        const truth = hits.length + missed.length;
        const counted = hits.length + wrong.length;
        sum.error += Math.abs(counted - truth) / Math.max(1, truth);
        const { low, high } = countInterval(found.detections, 0.9);
        if (low <= plants.length && plants.length <= high) sum.held++;
        if (factor === 1)
          console.log(
            `  ${entry.file.padEnd(24)} true ${truth} got ${counted} missed ${missed.length} wrong ${wrong.length}`,
          );
      }
      const f1 = (hit: number, miss: number): string => ((2 * hit) / (2 * hit + miss + sum.wrong)).toFixed(3);
      console.log(
        `${name} at ${(mmPerPx * factor).toFixed(2)} mm/px: F1 ${f1(sum.hit, sum.missed)} (sure labels ${f1(sum.sureHit, sum.sureMissed)}), ` +
          `|count error| ${((100 * sum.error) / photos.length).toFixed(1)} %, interval holds ${sum.held} of ${photos.length}`,
      );
    }
  }
}
