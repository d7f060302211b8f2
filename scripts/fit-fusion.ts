/**
 * Fits the weights by which network and colour are joined (src/core/detector/plantChance.ts) on rendered scenes with
 * true soil planes, and prints them with the score on scenes the fit did not see.
 *
 *   npx tsx scripts/fit-fusion.ts FOLDER... [--held-out PATTERN]
 */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import type { DetectorCard } from '../src/core/detector/detectorCard.ts';
import { findPlantsWithModel } from '../src/core/detector/findPlantsWithModel.ts';
import { gatherMarks } from '../src/core/detector/gatherMarks.ts';
import { evidenceTerms } from '../src/core/detector/plantChance.ts';
import type { Point } from '../src/core/geometry/point.ts';
import { findPlantsByColour } from '../src/core/plants/findPlantsByColour.ts';
import { straighten } from '../src/core/straighten/straighten.ts';
import { groundToStrip, stripToGround } from '../src/core/straighten/stripGround.ts';
import { onnxRunner } from '../src/node/onnxRunner.ts';
import { readPhoto } from '../src/node/readPhoto.ts';
import { matchPoints } from './score/matchPoints.ts';
import { type Scene, scenesIn } from './score/sceneTruth.ts';

/** A mark is the plant whose base lies within this; marks farther off are no plants. */
const SAME_M = 0.05;
const MATCH_M = 0.035;
const RIDGE = 0.5;
const ROUNDS = 4000;
const STEP = 0.003;

const { values, positionals } = parseArgs({
  options: { 'held-out': { type: 'string', default: 'random-901' } },
  allowPositionals: true,
});
const card = JSON.parse(readFileSync('models/seedlings.json', 'utf8')) as DetectorCard;
const run = await onnxRunner(readFileSync(`models/${card.file}`), { threads: 2 });

interface Sample {
  readonly at: Point;
  readonly terms: readonly number[];
  readonly plant: boolean;
}
interface Scored {
  readonly heldOut: boolean;
  readonly truth: readonly Point[];
  readonly samples: readonly Sample[];
}

async function samplesOf({ path, truth }: Scene): Promise<Scored | null> {
  const line = ['tape', 'rod', 'cards'].includes(truth.reference.kind);
  const photo = line ? await readPhoto(path) : null;
  if (photo === null || !photo.ok) return null;
  const [alongM, acrossM, heightM] = truth.camera.positionGroundM;
  const { fromM, toM } = truth.stretch;
  const strip = straighten(photo.value.raster, truth.photoToGround, {
    fromM: fromM - 0.15,
    toM: toM + 0.15,
    acrossFromM: -0.42,
    acrossToM: 0.42,
    camera: { alongM, acrossM, heightM },
  });
  const ends = truth.reference.endsM;
  const outline: Point[] =
    ends.length < 2 || truth.reference.kind === 'cards'
      ? []
      : [
          [ends[0]!, -0.02],
          [ends[1]!, -0.02],
          [ends[1]!, 0.02],
          [ends[0]!, 0.02],
        ];
  const search = {
    coveredStripPx: outline.length === 0 ? [] : [outline.map((p) => groundToStrip(strip, p))],
    rowAcrossM: null,
    rowWidthM: truth.rowWidthM,
    seedSpacingM: truth.seedSpacingM ?? null,
  };
  const network = await findPlantsWithModel(strip, search, run, card);
  const marks = gatherMarks(network, findPlantsByColour(strip, search), strip)
    .map(({ detection, evidence }) => ({ at: stripToGround(strip, detection.baseStripPx), evidence }))
    .filter(({ at }) => at[0] >= fromM && at[0] <= toM)
    .sort(
      (a, b) =>
        (b.evidence.network ?? 0) + (b.evidence.colour ?? 0) - (a.evidence.network ?? 0) - (a.evidence.colour ?? 0),
    );
  const plants = truth.plants.filter((p) => p.kind === 'plant' && p.inStretch).map((p): Point => [p.alongM, p.acrossM]);
  const free = new Set(plants);
  const samples = marks.map(({ at, evidence }): Sample => {
    let best: Point | null = null;
    let least = SAME_M;
    for (const p of free) {
      const apart = Math.hypot(p[0] - at[0], 0.6 * (p[1] - at[1]));
      if (apart < least) [best, least] = [p, apart];
    }
    if (best !== null) free.delete(best);
    return { at, terms: evidenceTerms(evidence), plant: best !== null };
  });
  return { heldOut: truth.image.includes(values['held-out']), truth: plants, samples };
}

function chance(terms: readonly number[], weights: readonly number[]): number {
  return 1 / (1 + Math.exp(-terms.reduce((sum, t, i) => sum + t * weights[i]!, 0)));
}

function fitWeights(samples: readonly Sample[]): number[] {
  let weights = samples[0]!.terms.map(() => 0);
  for (let k = 0; k < ROUNDS; k++) {
    const pull = weights.map((w, i) => (i === 0 ? 0 : -RIDGE * w));
    for (const { terms, plant } of samples) {
      const miss = (plant ? 1 : 0) - chance(terms, weights);
      for (let i = 0; i < pull.length; i++) pull[i]! += miss * terms[i]!;
    }
    weights = weights.map((w, i) => w + STEP * pull[i]!);
  }
  return weights;
}

function print(name: string, scenes: readonly Scored[], weights: readonly number[]): void {
  let [pairs, missed, alarms, error] = [0, 0, 0, 0];
  const bins = Array.from({ length: 10 }, () => ({ said: 0, were: 0 }));
  for (const { truth, samples } of scenes) {
    const found = samples.filter((s) => chance(s.terms, weights) >= 0.5).map((s) => s.at);
    const match = matchPoints(found, truth, MATCH_M);
    pairs += match.pairs.length;
    missed += match.missed.length;
    alarms += match.falseAlarms.length;
    error += Math.abs(found.length - truth.length) / Math.max(1, truth.length);
    for (const s of samples) {
      const p = chance(s.terms, weights);
      const bin = bins[Math.min(9, Math.floor(10 * p))]!;
      bin.said += p;
      bin.were += s.plant ? 1 : 0;
    }
  }
  const all = scenes.reduce((sum, s) => sum + s.samples.length, 0);
  const calibration = bins.reduce((sum, b) => sum + Math.abs(b.said - b.were), 0) / all;
  console.log(
    `${name}: ${scenes.length} scenes, F1 ${((2 * pairs) / (2 * pairs + missed + alarms)).toFixed(3)}, missed ${missed}, false ${alarms}, mean |count| ${((100 * error) / scenes.length).toFixed(1)} %, expected calibration error ${calibration.toFixed(3)}`,
  );
}

const scored: Scored[] = [];
for (const folder of positionals) {
  for (const scene of scenesIn(folder)) {
    const one = await samplesOf(scene);
    if (one !== null) scored.push(one);
  }
}
const seen = scored.filter((s) => !s.heldOut);
const weights = fitWeights(seen.flatMap((s) => s.samples));
console.log(`weights [${weights.map((w) => w.toFixed(2)).join(', ')}]`);
print('fitted on', seen, weights);
print(
  'held out',
  scored.filter((s) => s.heldOut),
  weights,
);
