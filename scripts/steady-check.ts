/**
 * How steady the scale is: every scene with a reference read again under disturbances that no eye sees (one grey level of
 * noise from a seeded generator, a border of one pixel cut off). Prints the error of the scale at the row, per cent,
 * undisturbed, its least and greatest disturbed, and what was said (1 sd).
 *
 *   npx tsx scripts/steady-check.ts [--folder DIR] [--only TEXT] [--seeds N]
 */
import { basename } from 'node:path';
import { parseArgs } from 'node:util';
import { applyHomography, invertHomography } from '../src/core/geometry/homography.ts';
import { makeRaster, type Raster } from '../src/core/raster/raster.ts';
import { findReference } from '../src/core/reference/findReference.ts';
import { seededRandom } from './scenes/random.ts';
import { cuesOf, optionsOf, photoOf } from './score/checkScale.ts';
import { type SceneTruth, scenesIn } from './score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    folder: { type: 'string', default: 'sample-images' },
    only: { type: 'string', default: 'tape' },
    seeds: { type: 'string', default: '4' },
  },
});

for (const scene of scenesIn(values.folder)) {
  if (!basename(scene.path).includes(values.only) || scene.truth.reference.kind === 'none') continue;
  const photo = await photoOf(scene);
  const options = optionsOf(scene);
  const cues = cuesOf(photo, options);
  const read = (raster: Raster, dx = 0, dy = 0) => {
    const found = findReference(raster, options.reference, cues);
    if (found.kind === 'none') return null;
    const saidPct = found.alongErrorMm / 10 / (found.endsM[1] - found.endsM[0]);
    return { errorPct: scaleErrorPct(found.photoToGround, scene.truth, dx, dy), saidPct };
  };
  const plain = read(photo.raster);
  const disturbed = [
    ...Array.from({ length: Number(values.seeds) }, (_, i) => read(noisy(photo.raster, i + 1))),
    ...(
      [
        [1, 0],
        [0, 1],
        [1, 1],
      ] as const
    ).map(([dx, dy]) => read(cut(photo.raster, dx, dy), dx, dy)),
  ];
  const all = [plain, ...disturbed].flatMap((r) => (r === null ? [] : [r]));
  const errors = all.map((r) => r.errorPct).sort((a, b) => a - b);
  const pct = (v: number | undefined): string => (v === undefined ? '  none' : v.toFixed(2).padStart(6));
  console.log(
    `${basename(scene.path, '.jpg').padEnd(24)} plain ${pct(plain?.errorPct)}  from ${pct(errors[0])} to ${pct(errors.at(-1))}  said ${pct(Math.min(...all.map((r) => r.saidPct)))} to ${pct(Math.max(...all.map((r) => r.saidPct)))}  not found ${disturbed.length + 1 - all.length} of ${disturbed.length + 1}  [${all.map((r) => r.errorPct.toFixed(2)).join(' ')}]`,
  );
}

function noisy(photo: Raster, seed: number): Raster {
  const random = seededRandom(seed);
  const out = makeRaster(photo.widthPx, photo.heightPx);
  for (let i = 0; i < photo.data.length; i++) {
    const by = i % 4 === 3 ? 0 : random.whole(-1, 1);
    out.data[i] = Math.max(0, Math.min(255, photo.data[i]! + by));
  }
  return out;
}

/** The photo without its first columns and rows. */
function cut(photo: Raster, dx: number, dy: number): Raster {
  const out = makeRaster(photo.widthPx - dx, photo.heightPx - dy);
  for (let y = 0; y < out.heightPx; y++) {
    const from = 4 * ((y + dy) * photo.widthPx + dx);
    out.data.set(photo.data.subarray(from, from + 4 * out.widthPx), 4 * y * out.widthPx);
  }
  return out;
}

/** Error of the true stretch at the row's line, per cent, through a plane found in a photo cut by (dx, dy). */
function scaleErrorPct(
  map: Parameters<typeof applyHomography>[0],
  { photoToGround, stretch }: SceneTruth,
  dx: number,
  dy: number,
): number {
  const back = invertHomography(photoToGround);
  const [a, b] = [stretch.fromM, stretch.toM].map((m) => {
    const [x, y] = applyHomography(back, [m, 0]);
    return applyHomography(map, [x - dx, y - dy])[0];
  }) as [number, number];
  return (Math.abs(b - a) / (stretch.toM - stretch.fromM) - 1) * 100;
}
