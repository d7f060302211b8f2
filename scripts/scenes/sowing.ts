import type { Random } from './random.ts';
import type { CropSpec, Stage } from './spec.ts';

export type Seedling = { readonly alongM: number; readonly acrossM: number; readonly stage: Stage };

function pickStage(stages: CropSpec['stages'], random: Random): Stage {
  let at = random.next() * stages.reduce((sum, [, weight]) => sum + weight, 0);
  for (const [stage, weight] of stages) {
    at -= weight;
    if (at <= 0) return stage;
  }
  return (stages[0] as readonly [Stage, number])[0];
}

/**
 * One row as a planter leaves it: seeds at the theoretical spacing with a normal error, some missing, some dropped
 * twice within 2 cm, and bare runs where nothing came up. `across` is the row line at an along position.
 */
export function sowRow(
  crop: CropSpec,
  fromM: number,
  toM: number,
  across: (along: number) => number,
  bare: CropSpec['bare'],
  random: Random,
): Seedling[] {
  const out: Seedling[] = [];
  const put = (along: number): void => {
    if (bare.some(([a, b]) => along > a && along < b)) return;
    out.push({
      alongM: along,
      acrossM: across(along) + random.normal(0, crop.lateralSdM),
      stage: pickStage(crop.stages, random),
    });
  };
  for (let x = fromM + random.next() * crop.seedSpacingM; x < toM; x += crop.seedSpacingM) {
    if (random.chance(crop.missShare)) continue;
    const at = x + random.normal(0, crop.spacingSdM);
    put(at);
    if (random.chance(crop.doubleShare)) put(at + (random.chance(0.5) ? 1 : -1) * random.between(0.006, 0.02));
  }
  // Two stems cannot share one spot.
  const kept: Seedling[] = [];
  for (const s of out.sort((a, b) => a.alongM - b.alongM)) {
    const last = kept[kept.length - 1];
    if (last === undefined || Math.hypot(s.alongM - last.alongM, s.acrossM - last.acrossM) > 0.005) kept.push(s);
  }
  return kept;
}

/** Bare runs of the stretch longer than `minM`, ends included, from the stem positions. */
export function bareRuns(
  alongM: readonly number[],
  fromM: number,
  toM: number,
  minM: number,
): { fromM: number; toM: number }[] {
  const inside = alongM.filter((x) => x >= fromM && x <= toM).sort((a, b) => a - b);
  const edges = [fromM, ...inside, toM];
  const runs: { fromM: number; toM: number }[] = [];
  for (let i = 1; i < edges.length; i++) {
    const [a, b] = [edges[i - 1] as number, edges[i] as number];
    if (b - a > minM) runs.push({ fromM: a, toM: b });
  }
  return runs;
}
