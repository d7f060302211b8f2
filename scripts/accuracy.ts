/**
 * Scores the count against truth: every rendered sample, and the real labelled photos when they are at hand.
 *
 *   npm run accuracy [-- --model none] [--folder DIR] [--photos DIR] [--marks]
 *
 * `--marks` replaces the reference search by true readings, as if a person had marked them.
 */
import { existsSync } from 'node:fs';
import { basename } from 'node:path';
import { performance } from 'node:perf_hooks';
import { parseArgs } from 'node:util';
import { parseCountArgs } from '../src/cli/commands/parseCountArgs.ts';
import { countPhoto } from '../src/core/count/countPhoto.ts';
import { chooseDetector } from '../src/node/chooseDetector.ts';
import { readPhoto } from '../src/node/readPhoto.ts';
import { printStrata, printTable } from './score/printTable.ts';
import { scoreRealPhotos } from './score/realPhotos.ts';
import { sceneArgs } from './score/sceneArgs.ts';
import { type Scene, scenesIn } from './score/sceneTruth.ts';
import { type SceneScore, scoreScene } from './score/scoreScene.ts';

const { values } = parseArgs({
  options: {
    model: { type: 'string', default: 'auto' },
    folder: { type: 'string', default: 'sample-images' },
    photos: { type: 'string', default: process.env.ROWLEDGER_PHOTOS ?? '../shared/photos' },
    marks: { type: 'boolean', default: false },
  },
});

const chosen = await chooseDetector(values.model);
if (!chosen.ok) throw new Error(chosen.found);
const tools = { ...chosen.value, nowMs: () => performance.now() };

const scored: { scene: Scene; score: SceneScore }[] = [];
for (const scene of scenesIn(values.folder)) {
  const args = parseCountArgs(sceneArgs(scene, values.marks));
  if (!args.ok) throw new Error(`${scene.path}: ${args.found}`);
  const photo = await readPhoto(scene.path);
  if (!photo.ok) throw new Error(photo.found);
  const { result } = await countPhoto(photo.value, args.value.options, tools);
  scored.push({ scene, score: scoreScene(result, scene.truth) });
}

console.log(
  `\nRendered scenes in ${values.folder}, detector ${values.model}${values.marks ? ', readings marked by hand' : ''}\n`,
);
printTable(
  scored.map(({ scene, score }) => ({ name: basename(scene.path) + (scene.truth.holdOut ? ' *' : ''), score })),
);
console.log('* held out of tuning');
printStrata(
  scored.map(({ scene, score }) => ({ tags: scene.truth.tags, holdOut: scene.truth.holdOut === true, score })),
);

if (existsSync(values.photos)) await scoreRealPhotos(values.photos, tools);
else
  console.log(`\nNo real labelled photos at ${values.photos}: set ROWLEDGER_PHOTOS to their folder to score them too.`);
