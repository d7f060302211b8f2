import { applyHead } from '../../src/core/learning/applyHead.ts';
import type { Head } from '../../src/core/learning/head.ts';
import { photoFolds } from '../../src/core/learning/photoFolds.ts';
import { seededRandom } from '../../src/core/statistics/seededRandom.ts';
import { trainHead } from '../../src/worker/trainHead.ts';
import type { ArmRun, SceneRun } from './runScene.ts';

const FOLDS = 5;
const ABOUT = { trainedAt: '2026-06-16T12:00:00Z', stock: { name: 'ablation', version: '1' } };

/** Every run judged by a head that learned from the true labels of the other parts' scenes, five parts. */
export async function withHeads(runs: readonly SceneRun[], seed: number): Promise<readonly (ArmRun | null)[]> {
  const names = [...new Set(runs.map((run) => run.name))];
  const heads = new Map<string, Head>();
  for (const [k, fold] of photoFolds(names, FOLDS, seededRandom(seed)).entries()) {
    const learned = runs.filter((run) => run.scale === 'marks' && !fold.includes(run.name)).flatMap((r) => r.examples);
    if (learned.length === 0) continue;
    const head = await trainHead(learned, seed + k, ABOUT);
    for (const name of fold) heads.set(name, head);
  }
  return runs.map((run) => {
    const head = heads.get(run.name);
    return head === undefined ? null : run.recount(judged(run, head));
  });
}

/** A head that learned from all scenes given. */
export async function headOfAll(runs: readonly SceneRun[], seed: number): Promise<Head> {
  return trainHead(
    runs.filter((run) => run.scale === 'marks').flatMap((run) => run.examples),
    seed,
    ABOUT,
  );
}

/** A run's joined marks as a head sees them. */
export function judged(run: SceneRun, head: Head): ReturnType<typeof applyHead<SceneRun['fused'][number]>> {
  return applyHead(
    head,
    run.fused,
    run.examples.map((example) => example.features),
  );
}
