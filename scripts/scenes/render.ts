/**
 * Renders scenes with their truth.
 *   npx tsx scripts/scenes/render.ts --all                      every scene of the catalogue to sample-images
 *   npx tsx scripts/scenes/render.ts --scene NAME [--out DIR]   one of them
 *   npx tsx scripts/scenes/render.ts --seed N --count M --out DIR [--size 4000x3000] [--quality 88]   random scenes
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { openStudio } from './browser.ts';
import { CATALOGUE } from './catalogue.ts';
import { writePhoto } from './photoFile.ts';
import { randomScene } from './randomScene.ts';
import type { SceneSpec } from './spec.ts';

const { values } = parseArgs({
  options: {
    all: { type: 'boolean' },
    scene: { type: 'string', multiple: true },
    seed: { type: 'string' },
    count: { type: 'string', default: '1' },
    out: { type: 'string' },
    size: { type: 'string' },
    quality: { type: 'string' },
  },
});

function wanted(): readonly SceneSpec[] {
  if (values.all === true) return CATALOGUE;
  if (values.scene !== undefined) {
    return values.scene.map((name) => {
      const found = CATALOGUE.find((s) => s.name === name);
      if (found === undefined)
        throw new Error(`No scene "${name}"; there are: ${CATALOGUE.map((s) => s.name).join(', ')}.`);
      return found;
    });
  }
  if (values.seed === undefined) throw new Error('Say --all, --scene NAME or --seed N --count M --out DIR.');
  const size = values.size === undefined ? null : (values.size.split('x').map(Number) as [number, number]);
  return Array.from({ length: Number(values.count) }, (_, i) => randomScene(Number(values.seed) + i, size));
}

const scenes = wanted();
const out = values.out ?? 'sample-images';
const quality = Number(values.quality ?? (values.seed === undefined ? 85 : 90));
mkdirSync(out, { recursive: true });
const studio = await openStudio();
for (const spec of scenes) {
  const started = performance.now();
  const { pixels, truth, seconds } = await studio.render(spec);
  const bytes = await writePhoto(join(out, `${spec.name}.jpg`), pixels, spec, quality);
  writeFileSync(join(out, `${spec.name}.truth.json`), `${JSON.stringify(truth)}\n`);
  const wallS = (performance.now() - started) / 1000;
  console.log(
    `${spec.name}: ${spec.widthPx}x${spec.heightPx}, ${(bytes / 1e6).toFixed(2)} MB, ${truth.count} plants, ${wallS.toFixed(1)} s ${JSON.stringify(seconds)}`,
  );
}
await studio.close();
