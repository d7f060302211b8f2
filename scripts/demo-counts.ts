/**
 * Counts the photos of the demonstration visits anew and writes what the machine said beside them. Run it after a change
 * to the counting:
 *
 *   npx tsx scripts/demo-counts.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { parseCountArgs } from '../src/cli/commands/parseCountArgs.ts';
import { countPhoto } from '../src/core/count/countPhoto.ts';
import { chooseDetector } from '../src/node/chooseDetector.ts';
import { readPhoto } from '../src/node/readPhoto.ts';
import { COUNTS_FILE, DEMO_PHOTOS } from '../src/server/demo/demoPhotos.ts';
import { sampleImages } from '../src/server/packageRoot.ts';

const folder = sampleImages();
const chosen = await chooseDetector('auto');
if (folder === null || !chosen.ok) throw new Error('no sample images, or no network');
const results: Record<string, unknown> = {};
for (const { file } of DEMO_PHOTOS) {
  const path = join(folder, file);
  const { countArgs } = JSON.parse(readFileSync(path.replace('.jpg', '.truth.json'), 'utf8')) as {
    countArgs: readonly string[];
  };
  const args = parseCountArgs([path, ...countArgs]);
  const photo = await readPhoto(path);
  if (!args.ok || !photo.ok) throw new Error(`${path} cannot be counted`);
  const tools = { ...chosen.value, nowMs: () => performance.now() };
  const { result } = await countPhoto(photo.value, args.value.options, tools);
  results[file] = { ...result, photo: { ...result.photo, file } };
  console.log(`${file}: ${result.count.value} (${result.count.low} to ${result.count.high})`);
}
writeFileSync(join(folder, COUNTS_FILE), `${JSON.stringify(results)}\n`);
