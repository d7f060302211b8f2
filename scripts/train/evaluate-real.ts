/**
 * Scores the plant network on pictures it was not made from: real labelled photos (other crops, scale assumed) and
 * scenes of the project's other renderer, straightened with their true geometry.
 *
 *   npx tsx scripts/train/evaluate-real.ts [--model models/seedlings] [--photos DIR] [--folder DIR]... [--threshold 0.3]
 */
import { existsSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { parseArgs } from 'node:util';
import type { DetectorCard } from '../../src/core/detector/detectorCard.ts';
import { findPlantsWithModel } from '../../src/core/detector/findPlantsWithModel.ts';
import type { ModelRunner } from '../../src/core/detector/modelRunner.ts';
import type { Point } from '../../src/core/geometry/point.ts';
import type { Detection } from '../../src/core/plants/detection.ts';
import type { Raster } from '../../src/core/raster/raster.ts';
import { straighten } from '../../src/core/straighten/straighten.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { stripToGround } from '../../src/core/straighten/stripGround.ts';
import { onnxRunner } from '../../src/node/onnxRunner.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { matchPoints } from '../score/matchPoints.ts';
import { scenesIn } from '../score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    model: { type: 'string', default: 'models/seedlings' },
    photos: { type: 'string', default: process.env.ROWLEDGER_PHOTOS ?? '../shared/photos' },
    folder: { type: 'string', multiple: true, default: ['sample-images'] },
    threshold: { type: 'string' },
  },
});

interface Labelled {
  readonly file: string;
  readonly width: number;
  readonly height: number;
  readonly plants: readonly { x: number; y: number; w?: number; class: string; edge?: boolean; unsure?: boolean }[];
  readonly ignore?: readonly { x: number; y: number; r: number }[];
}

/**
 * Scale assumed (none is recorded), once per origin of the pictures, from seedlings of 45 to 60 mm across. The sesame
 * pictures were squeezed from 4:3 to 1:1 before they were published.
 */
const FOLDERS: Readonly<Record<string, { crop: string; mmPerPx: Readonly<Record<string, number>>; widen: number }>> = {
  'cotton-rows': { crop: 'cotton', mmPerPx: { s: 1.6, h: 3.2, v: 3.2 }, widen: 1 },
  'sesame-rows': { crop: 'crop', mmPerPx: { '': 1.4 }, widen: 4 / 3 },
};
const THRESHOLDS = [0.15, 0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5];
const BASE_WITHIN_M = 0.035;

interface Tally {
  hit: number;
  wrong: number;
  missed: number;
}
const f1 = ({ hit, wrong, missed }: Tally): string => ((2 * hit) / Math.max(1, 2 * hit + wrong + missed)).toFixed(3);

const card = JSON.parse(readFileSync(`${values.model}.json`, 'utf8')) as DetectorCard;
const run = await onnxRunner(readFileSync(`${values.model}.onnx`), { threads: 1 });
const threshold = values.threshold === undefined ? card.threshold : Number(values.threshold);
const scoreOf = new WeakMap<Detection, number>();

/** Detections at every threshold come from one run: the card's own calibration is bypassed. */
async function detect(strip: Strip): Promise<readonly Detection[]> {
  const identity: DetectorCard = {
    ...card,
    calibration: [
      [0, 0],
      [1, 1],
    ],
  };
  const { detections } = await findPlantsWithModel(
    strip,
    { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null },
    run satisfies ModelRunner,
    identity,
  );
  for (const d of detections) scoreOf.set(d, d.confidence);
  return detections.filter((d) => d.kind !== 'weed');
}

for (const [name, { crop, mmPerPx, widen }] of Object.entries(FOLDERS)) {
  const list = join(values.photos, name, 'counts.json');
  if (!existsSync(list)) {
    console.log(`${name}: not at hand`);
    continue;
  }
  const tallies = THRESHOLDS.map((): Tally => ({ hit: 0, wrong: 0, missed: 0 }));
  const lines: string[] = [];
  for (const entry of JSON.parse(readFileSync(list, 'utf8')) as Labelled[]) {
    const photo = await readPhoto(join(values.photos, name, entry.file));
    if (!photo.ok) throw new Error(photo.found);
    const scale = mmPerPx[Object.keys(mmPerPx).find((start) => entry.file.startsWith(start)) ?? '']!;
    const found = await detect(flatStrip(widened(photo.value.raster, widen), scale));
    THRESHOLDS.forEach((t, k) => {
      const marks = found
        .filter((d) => scoreOf.get(d)! >= t)
        .map((d): Point => [d.crownStripPx[0] / widen, d.crownStripPx[1]]);
      const got = scorePhoto(entry, crop, marks);
      for (const key of ['hit', 'wrong', 'missed'] as const) tallies[k]![key] += got[key];
      if (Math.abs(t - threshold) < 0.026 && !lines.some((l) => l.includes(entry.file))) {
        lines.push(`  ${entry.file.padEnd(26)} hit ${got.hit} missed ${got.missed} wrong ${got.wrong}`);
      }
    });
  }
  console.log(`${name}: F1 by threshold ${THRESHOLDS.map((t, k) => `${t} ${f1(tallies[k]!)}`).join(' | ')}`);
  for (const line of lines) console.log(line);
}

const views = new Map<string, Tally[]>();
for (const folder of values.folder) {
  for (const { path, truth } of scenesIn(folder)) {
    const photo = await readPhoto(path);
    if (!photo.ok) throw new Error(photo.found);
    const [alongM, acrossM, heightM] = truth.camera.positionGroundM;
    const rows = truth.plants.filter((p) => p.kind === 'plant').map((p) => p.acrossM);
    const middle = rows.length > 0 ? rows.reduce((a, b) => a + b, 0) / rows.length : 0;
    const { fromM, toM } = truth.stretch;
    const area = { fromM: fromM - 0.1, toM: toM + 0.1, acrossFromM: middle - 0.26, acrossToM: middle + 0.26 };
    const strip = straighten(photo.value.raster, truth.photoToGround, {
      ...area,
      camera: { alongM, acrossM, heightM },
    });
    const found = await detect(strip);
    const plants = truth.plants.filter((p) => p.kind === 'plant');
    const inside = (along: number) => along >= fromM && along <= toM;
    const line: string[] = [];
    for (const [k, t] of THRESHOLDS.entries()) {
      const bases = found.filter((d) => scoreOf.get(d)! >= t).map((d) => stripToGround(strip, d.baseStripPx));
      const m = matchPoints(
        bases,
        plants.map((p) => [p.alongM, p.acrossM]),
        BASE_WITHIN_M,
      );
      const got: Tally = {
        hit: m.pairs.filter(([, p]) => inside(plants[p]!.alongM)).length,
        missed: m.missed.filter((p) => inside(plants[p]!.alongM)).length,
        wrong: m.falseAlarms.filter((f) => inside(bases[f]![0])).length,
      };
      for (const key of ['all', String(truth.tags.view), truth.tags.hard === true ? 'hard' : 'not hard']) {
        const list = views.get(key) ?? THRESHOLDS.map((): Tally => ({ hit: 0, wrong: 0, missed: 0 }));
        views.set(key, list);
        for (const part of ['hit', 'wrong', 'missed'] as const) list[k]![part] += got[part];
      }
      if (Math.abs(t - threshold) < 0.026 && line.length === 0) {
        line.push(`hit ${got.hit} missed ${got.missed} wrong ${got.wrong} F1 ${f1(got)}`);
      }
    }
    console.log(`  ${basename(path).padEnd(26)} ${truth.tags.view} ${truth.tags.stage} ${line.join('')}`);
  }
}
for (const [key, list] of views) {
  console.log(`other renderer, ${key}: F1 (bases) ${THRESHOLDS.map((t, k) => `${t} ${f1(list[k]!)}`).join(' | ')}`);
}

/** Hits, misses and false marks of one photo; edge plants, unsure plants and ignored places count neither way. */
function scorePhoto(entry: Labelled, crop: string, marks: readonly Point[]): Tally {
  const plants = entry.plants.filter((p) => p.class === crop);
  const widths = plants.flatMap((p) => (p.w === undefined ? [] : [p.w]));
  const within = 0.6 * (widths.length > 0 ? widths.reduce((a, b) => a + b, 0) / widths.length : 24);
  const m = matchPoints(
    marks,
    plants.map((p) => [p.x, p.y]),
    within,
  );
  const counts = (t: number) => plants[t]!.edge !== true && plants[t]!.unsure !== true;
  const wrong = m.falseAlarms.filter((f) => {
    const [x, y] = marks[f]!;
    if (x < 4 || y < 4 || x > entry.width - 4 || y > entry.height - 4) return false;
    if ((entry.ignore ?? []).some((c) => Math.hypot(c.x - x, c.y - y) <= c.r)) return false;
    if (entry.plants.some((p) => p.class !== crop && Math.hypot(p.x - x, p.y - y) <= 0.7 * (p.w ?? within)))
      return false;
    return !plants.some((p, t) => !counts(t) && Math.hypot(p.x - x, p.y - y) <= 1.2 * within);
  });
  return {
    hit: m.pairs.filter(([, t]) => counts(t)).length,
    missed: m.missed.filter(counts).length,
    wrong: wrong.length,
  };
}

/** A photo straight down, taken for a strip of the given scale; the camera's place is not known. */
function flatStrip(raster: Raster, mmPerPx: number): Strip {
  return {
    raster,
    mmPerPx,
    alongAtLeftM: 0,
    acrossAtTopM: (raster.heightPx * mmPerPx) / 2000,
    photoToStrip: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    stripToPhoto: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    camera: null,
    worstPhotoPxPerStripPx: 1,
  };
}

/** Stretches a picture along x by linear interpolation. */
function widened({ widthPx, heightPx, data }: Raster, factor: number): Raster {
  if (factor === 1) return { widthPx, heightPx, data };
  const wide = Math.round(widthPx * factor);
  const out = new Uint8Array(wide * heightPx * 4);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < wide; x++) {
      const at = Math.min(widthPx - 1.001, Math.max(0, (x + 0.5) / factor - 0.5));
      const i = Math.floor(at);
      for (let c = 0; c < 4; c++) {
        const a = data[4 * (y * widthPx + i) + c]!;
        out[4 * (y * wide + x) + c] = a + (at - i) * (data[4 * (y * widthPx + Math.min(widthPx - 1, i + 1)) + c]! - a);
      }
    }
  }
  return { widthPx: wide, heightPx, data: out };
}
