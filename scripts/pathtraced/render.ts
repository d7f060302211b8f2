/**
 * Path-traced check scenes with exact truth, by Blender's Cycles: another renderer and other plant models than `scripts/scenes`.
 *
 *   npx tsx scripts/pathtraced/render.ts --out DIR [--only NAME,NAME] [--long 2400] [--samples 8] [--threads 2]
 *   npx tsx scripts/pathtraced/render.ts --out DIR --seed N --count M     scenes drawn by seed instead of those of the plan
 *
 * With 2 samples a pixel what the sky lights is specked with black, which no camera does: colour alone scored 0.61 on
 * pt-down-cards, with 10 samples 0.90 (joined with the network 0.93 and 0.91).
 *
 * Needs Blender 3.4, pdftoppm and OpenCV for Python (`/usr/bin/python3`). A scene that is already there is left alone. Rendered pictures, not photographs.
 */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import sharp from 'sharp';
import { SCENES, type SceneSpec } from './plan.ts';
import { writePrints } from './prints.ts';
import { randomPlan } from './randomPlan.ts';

const { values } = parseArgs({
  options: {
    out: { type: 'string' },
    only: { type: 'string' },
    seed: { type: 'string' },
    count: { type: 'string', default: '1' },
    long: { type: 'string', default: '2400' },
    samples: { type: 'string', default: '8' },
    threads: { type: 'string', default: '2' },
  },
});
if (values.out === undefined) throw new Error('no folder to write to: give --out DIR');
const out = resolve(values.out);
const scratch = join(out, 'work');
mkdirSync(scratch, { recursive: true });
const prints = join(scratch, 'prints');
if (!existsSync(join(prints, 'card-1.png'))) await writePrints(prints);

const here = dirname(fileURLToPath(import.meta.url));
const only = values.only?.split(',');
const drawn = Array.from({ length: Number(values.count) }, (_, k) => randomPlan(Number(values.seed) + k));
for (const scene of values.seed === undefined ? SCENES : drawn) {
  if (only !== undefined && !only.includes(scene.name)) continue;
  if (existsSync(join(out, `${scene.name}.truth.json`))) continue;
  const started = performance.now();
  const file = renderScene(scene);
  // Light from all over the sky comes noisier than the sun's.
  const strength = { sun: '5', hazy: '7', overcast: '11' }[scene.light.kind];
  execFileSync('/usr/bin/python3', [join(here, 'denoise.py'), `${file}.png`, `${file}.clean.png`, strength]);
  await finish(scene, `${file}.clean.png`, join(out, `${scene.name}.jpg`));
  renameSync(`${file}.truth.json`, join(out, `${scene.name}.truth.json`));
  for (const left of ['.png', '.clean.png', '.thumb.exr', '.spec.json']) rmSync(file + left, { force: true });
  console.log(`${scene.name}  ${((performance.now() - started) / 1000).toFixed(0)} s`);
}

/** Runs Blender on one scene; answers the path of its files without their endings. */
function renderScene(scene: SceneSpec): string {
  const file = join(scratch, scene.name);
  const long = Number(values.long);
  const spec = {
    ...scene,
    out: file,
    prints,
    pixels: [long, Math.round((long * 3) / 4)],
    samples: Number(values.samples),
    threads: Number(values.threads),
    stepM: scene.view === 'down' ? 0.004 : 0.005,
    tags: tagsOf(scene),
    countArgs: [
      ...scene.countArgs,
      '--row-width',
      `${(scene.rowWidthM * 1000).toFixed(0)}mm`,
      '--seed-spacing',
      `${(scene.spacingM * 1000).toFixed(0)}mm`,
    ],
  };
  writeFileSync(`${file}.spec.json`, JSON.stringify(spec));
  const script = join(here, 'scene.py');
  const log = execFileSync(
    'blender',
    ['-b', '--python-exit-code', '1', '--python', script, '--', `${file}.spec.json`],
    {
      maxBuffer: 1 << 28,
    },
  );
  writeFileSync(`${file}.log`, log);
  return file;
}

function tagsOf(scene: SceneSpec): Record<string, string | boolean> {
  const age = (scene.age[0] + scene.age[1]) / 2;
  return {
    view: scene.view,
    stage: age < 0.55 ? 'cotyledon' : age < 1.55 ? 'unifoliate' : 'trifoliate1',
    light: scene.light.kind === 'sun' ? `sun ${scene.light.elevationDeg} deg` : scene.light.kind,
    soil: scene.soil,
    surface: scene.surface,
    reference: scene.reference.kind,
    hard: scene.hard,
  };
}

/** As a phone's picture: a little sharpened, a little noise, JPEG at 90 with the lens in its EXIF. */
async function finish(scene: SceneSpec, from: string, to: string): Promise<void> {
  await sharp(from)
    .sharpen({ sigma: 0.8, m1: 0.6, m2: 1 })
    .jpeg({ quality: 90, chromaSubsampling: '4:2:0' })
    .withExif({
      IFD0: {
        Make: 'Rendered',
        Model: 'Path-traced scene',
        ImageDescription: `Rendered, not a photograph: ${scene.name}`,
      },
      IFD2: { FocalLengthIn35mmFilm: '26', FocalLength: '57/10', DateTimeOriginal: '2025:06:18 10:30:00' },
    })
    .toFile(to);
}
