/**
 * Compares ways of finding plants on the same straightened strips: colour alone, the network alone, both joined, and
 * joined with a learned head. Prints one table for the scale found and one for true marks; doubles; false plants on
 * empty ground; and how far confidences can be believed.
 *
 *   npm run ablation [-- --folder DIR]... [--photos DIR] [--tests DIR] [--seed N] [--only TEXT]
 *
 * The samples are always scored; `--folder` adds folders of rendered scenes. Test strips (empty ground, many doubles)
 * are rendered on first use. The head learns from the true labels of other scenes (five parts): more than any person
 * would correct, so its line is the most that learning could give here.
 */
import { existsSync, statSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { type Arm, openDetectors } from './ablation/detectors.ts';
import { type Judged, printAblation, printDoubles, printEmpty, printReliability } from './ablation/printTables.ts';
import { realGround } from './ablation/realGround.ts';
import { type ArmRun, runScene, type SceneRun } from './ablation/runScene.ts';
import { makeTestScenes } from './ablation/testScenes.ts';
import { headOfAll, judged, withHeads } from './ablation/withHeads.ts';
import { scenesIn } from './score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    folder: { type: 'string', multiple: true, default: [] },
    photos: { type: 'string', default: process.env.ROWLEDGER_PHOTOS ?? '../shared/photos' },
    tests: { type: 'string', default: 'artifacts/ablation' },
    seed: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
  },
});
const seed = Number(values.seed);
const threads = Math.min(2, cpus().length);
const find = await openDetectors(threads);

async function runAll(folders: readonly string[], scales: readonly SceneRun['scale'][]): Promise<readonly SceneRun[]> {
  const runs: SceneRun[] = [];
  for (const scene of folders.flatMap((folder) => scenesIn(folder))) {
    if (!scene.path.includes(values.only)) continue;
    for (const scale of scales) {
      const run = await runScene(scene, scale, find);
      if (run !== null) runs.push(run);
    }
    console.error(scene.path);
  }
  return runs;
}

function together(runs: readonly SceneRun[], heads: readonly (ArmRun | null)[]): readonly Judged[] {
  return runs.map((run, k): Judged => {
    const head = heads[k] ?? null;
    return {
      run,
      arms: new Map<Arm, ArmRun>([...run.arms, ...(head === null ? [] : [['fused + head', head] as const])]),
    };
  });
}

const isEmpty = (run: SceneRun) => run.truth.plants.every((p) => p.kind !== 'plant' || !p.inStretch);

console.log(
  `seed ${seed}; ${cpus().length} cores, ${threads} threads, load ${loadavg()[0]!.toFixed(1)}; size: colour none, network ` +
    `${(statSync('models/seedlings.onnx').size / 1e6).toFixed(1)} MB`,
);
const folders = ['sample-images', ...values.folder];
const runs = await runAll(folders, ['found', 'marks']);
const sown = runs.filter((run) => !isEmpty(run));
const scenes = together(sown, await withHeads(sown, seed));
for (const scale of ['found', 'marks'] as const) {
  console.log(
    `\nScenes of ${folders.join(', ')} with ${scale === 'found' ? 'the scale found' : 'true readings marked (cards and frames as found)'}`,
  );
  printAblation(scenes, scale);
}
console.log('\nReliability (true readings marked)');
printReliability(scenes.filter(({ run }) => run.scale === 'marks'));

const tests = await runAll([await makeTestScenes(values.tests)], ['marks']);
const head = sown.length > 0 ? await headOfAll(sown, seed) : null;
const strips = together(
  [...tests, ...runs.filter(isEmpty)].filter((run) => run.scale === 'marks'),
  [...tests, ...runs.filter(isEmpty)]
    .filter((run) => run.scale === 'marks')
    .map((run) => (head === null ? null : run.recount(judged(run, head)))),
);
console.log('\nDoubles, rendered rows with many of them');
printDoubles(strips.filter(({ run }) => !isEmpty(run)));
console.log('\nEmpty ground, rendered');
printEmpty(strips.filter(({ run }) => isEmpty(run)));

if (existsSync(values.photos)) {
  console.log(
    '\nReal photos between labelled plants (other crops, scale assumed): plants said where nothing is labelled',
  );
  const places = await realGround(values.photos, find);
  for (const { file, areaM2, counted } of places) {
    console.log(
      `  ${file.padEnd(42)} ${areaM2.toFixed(2)} m2  ${Object.entries(counted)
        .map(([arm, n]) => `${arm} ${n}`)
        .join('  ')}`,
    );
  }
  const area = places.reduce((sum, place) => sum + place.areaM2, 0);
  const total = (arm: string) => places.reduce((sum, place) => sum + place.counted[arm]!, 0);
  console.log(
    `  ${area.toFixed(2)} m2: ${['colour', 'network', 'fused'].map((arm) => `${arm} ${total(arm)} (${(total(arm) / area).toFixed(1)} per m2)`).join(', ')}`,
  );
}
