/**
 * Counts one photo again and again with the built program, as people run it. Prints the times of every run but the first
 * and the strip's map as one JSON line, for `bench.ts`.
 *
 *   node scripts/bench-count.mjs PHOTO MODEL RUNS [count options]
 */
import { performance } from 'node:perf_hooks';
import { parseCountArgs } from '../dist/cli/commands/parseCountArgs.js';
import { countPhoto } from '../dist/core/count/countPhoto.js';
import { chooseDetector } from '../dist/node/chooseDetector.js';
import { readPhoto } from '../dist/node/readPhoto.js';

const [path, model, runs, ...options] = process.argv.slice(2);
const chosen = await chooseDetector(model);
const args = parseCountArgs([path, ...options]);
if (!chosen.ok || !args.ok) throw new Error('the scene cannot be counted as its truth says');
const tools = { ...chosen.value, nowMs: () => performance.now() };

const times = {};
let strip = null;
for (let i = 0; i < Number(runs) + 1; i++) {
  const start = performance.now();
  const photo = await readPhoto(path);
  if (!photo.ok) throw new Error(photo.found);
  const decoded = performance.now();
  const analysis = await countPhoto(photo.value, args.value.options, tools);
  const end = performance.now();
  strip = analysis.strip;
  if (i === 0) continue;
  const { total: _, ...steps } = analysis.result.timingsMs;
  for (const [name, ms] of Object.entries({ decode: decoded - start, ...steps, total: end - start })) {
    times[name] ??= [];
    times[name].push(ms);
  }
}
if (strip === null) throw new Error(`${path}: no scale found, nothing to compare`);
const { photoToStrip, raster } = strip;
console.log(JSON.stringify({ times, photoToStrip, stripPx: [raster.widthPx, raster.heightPx] }));
