/**
 * Scores plant finding alone: scenes are straightened with their true geometry, so that no error of the reference
 * comes in.
 *
 *   npx tsx scripts/plants-check.ts [--folder DIR]... [--photos DIR] [--only TEXT] [--held]
 *
 * Prints one line per scene, one per stratum, the reliability of the confidences, the calibration of the count
 * interval, and the real labelled photos when they are at hand. Scenes with `holdOut` are scored apart; `--held`
 * prints them alone.
 */
import { existsSync } from 'node:fs';
import { basename } from 'node:path';
import { performance } from 'node:perf_hooks';
import { parseArgs } from 'node:util';
import { applyHomography } from '../src/core/geometry/homography.ts';
import { countInterval } from '../src/core/plants/countInterval.ts';
import type { Detection } from '../src/core/plants/detection.ts';
import { findPlantsByColour } from '../src/core/plants/findPlantsByColour.ts';
import { straighten } from '../src/core/straighten/straighten.ts';
import { stripToGround } from '../src/core/straighten/stripGround.ts';
import { readPhoto } from '../src/node/readPhoto.ts';
import { matchPoints } from './score/matchPoints.ts';
import { printReliability, type Scored } from './score/plantTables.ts';
import { checkRealPlants } from './score/realPlants.ts';
import { type Scene, scenesIn } from './score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    folder: { type: 'string', multiple: true, default: ['sample-images'] },
    photos: { type: 'string', default: process.env.ROWLEDGER_PHOTOS ?? '../shared/photos' },
    only: { type: 'string', default: '' },
    held: { type: 'boolean', default: false },
  },
});

const MATCH_WITHIN_M = 0.035;
const HALF_WIDTH_M = 0.42;
const MARGIN_M = 0.15;

async function scoreScene({ path, truth }: Scene): Promise<Scored> {
  const photo = await readPhoto(path);
  if (!photo.ok) throw new Error(photo.found);
  const { raster, photoPxPerRasterPx } = photo.value;
  if (photoPxPerRasterPx !== 1) throw new Error(`${path}: scored at full size only`);
  const [alongM, acrossM, heightM] = truth.camera.positionGroundM;
  const { fromM, toM } = truth.stretch;
  const frame =
    truth.reference.kind === 'frame'
      ? truth.reference.endsPx
          .concat((truth.reference.corners ?? []).flatMap((c) => c.px))
          .map((p) => applyHomography(truth.photoToGround, p)[1])
      : [];
  const strip = straighten(raster, truth.photoToGround, {
    fromM: fromM - MARGIN_M,
    toM: toM + MARGIN_M,
    acrossFromM: frame.length > 0 ? Math.min(...frame) : -HALF_WIDTH_M,
    acrossToM: frame.length > 0 ? Math.max(...frame) : HALF_WIDTH_M,
    camera: { alongM, acrossM, heightM },
  });
  const covered = referenceOutline(truth);
  const start = performance.now();
  const { detections, rowLine, warnings } = findPlantsByColour(strip, {
    coveredStripPx: covered.map((outline) => outline.map((p) => applyHomography(strip.photoToStrip, p))),
    rowAcrossM: null,
    rowWidthM: truth.rowWidthM,
    seedSpacingM: truth.seedSpacingM ?? null,
  });
  const ms = performance.now() - start;
  const ground = (d: Detection) => stripToGround(strip, d.baseStripPx);
  const inside = detections.filter((d) => ground(d)[0] >= fromM && ground(d)[0] <= toM);
  const plants = inside.filter((d) => d.kind === 'plant');
  const crop = truth.plants.filter((p) => p.kind === 'plant');
  const all = matchPoints(
    plants.map(ground),
    crop.map((p) => [p.alongM, p.acrossM]),
    MATCH_WITHIN_M,
  );
  const near = matchPoints(
    detections.filter((d) => d.kind === 'plant').map(ground),
    crop.filter((p) => p.inStretch).map((p) => [p.alongM, p.acrossM]),
    MATCH_WITHIN_M,
  );
  const everyMark = matchPoints(
    inside.map(ground),
    crop.map((p) => [p.alongM, p.acrossM]),
    MATCH_WITHIN_M,
  );
  const right = new Set(everyMark.pairs.map(([f]) => f));
  return {
    name: basename(path).replace(/\.\w+$/, ''),
    tags: truth.tags,
    held: truth.holdOut === true,
    truth: crop.filter((p) => p.inStretch).length,
    counted: plants.length,
    hit: all.pairs.length,
    wrong: all.falseAlarms.length,
    missed: near.missed.length,
    baseErrorsMm: all.pairs.map(([f, t]) => {
      const [x, y] = ground(plants[f]!);
      return 1000 * Math.hypot(x - crop[t]!.alongM, y - crop[t]!.acrossM);
    }),
    marks: inside.map((d, k) => ({ confidence: d.confidence, right: right.has(k) })),
    interval: countInterval(inside, 0.9),
    rowFound: rowLine !== null,
    codes: warnings.map((w) => w.code),
    ms,
  };
}

/** Where the reference lies in the photo, from its true ends and corners, 2 cm to either side of a line. */
function referenceOutline(truth: Scene['truth']): readonly (readonly (readonly [number, number])[])[] {
  const cards = truth.reference.corners ?? [];
  if (cards.length > 0 && truth.reference.kind === 'cards') return cards.map((c) => c.px);
  const [a, b] = truth.reference.endsPx;
  if (a === undefined || b === undefined || truth.reference.kind === 'frame') return [];
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const metres = Math.abs(truth.reference.endsM[1]! - truth.reference.endsM[0]!);
  const half = (0.02 * length) / Math.max(0.1, metres);
  const nx = (-(b[1] - a[1]) / length) * half;
  const ny = ((b[0] - a[0]) / length) * half;
  return [
    [
      [a[0] + nx, a[1] + ny],
      [b[0] + nx, b[1] + ny],
      [b[0] - nx, b[1] - ny],
      [a[0] - nx, a[1] - ny],
    ],
  ];
}

const scored: Scored[] = [];
for (const folder of values.folder) {
  for (const scene of scenesIn(folder)) {
    if (!scene.path.includes(values.only)) continue;
    if (values.held && scene.truth.holdOut !== true) continue;
    scored.push(await scoreScene(scene));
  }
}
printReliability(scored);
if (existsSync(values.photos)) await checkRealPlants(values.photos);
