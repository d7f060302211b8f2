/**
 * How much of a count is chance: every scene is counted by the reference found and by hand marks, each once as it is and
 * again with its soil plane moved by up to a millimetre and a twentieth of a per cent, which no reading is better than.
 *
 *   npx tsx scripts/moved-check.ts [--folder DIR] [--moves N] [--model NAME]
 *
 * Prints each scene's counts and, for every move, mean count error and F1 over the scenes that both count.
 */
import { basename } from 'node:path';
import { parseArgs } from 'node:util';
import { parseCountArgs } from '../src/cli/commands/parseCountArgs.ts';
import { countFindings } from '../src/core/count/countFindings.ts';
import { preparePhoto } from '../src/core/count/preparePhoto.ts';
import { applyHomography, composeHomographies, type Homography } from '../src/core/geometry/homography.ts';
import { seededRandom } from '../src/core/statistics/seededRandom.ts';
import { straighten } from '../src/core/straighten/straighten.ts';
import { chooseDetector } from '../src/node/chooseDetector.ts';
import { photoOf } from './score/checkScale.ts';
import { sceneArgs } from './score/sceneArgs.ts';
import { type Scene, scenesIn } from './score/sceneTruth.ts';
import { type SceneScore, scoreScene } from './score/scoreScene.ts';

const { values } = parseArgs({
  options: {
    folder: { type: 'string', default: 'sample-images' },
    moves: { type: 'string', default: '6' },
    model: { type: 'string', default: 'none' },
  },
});
const MOST_M = 0.001;
const MOST_SHARE = 0.0005;

const chosen = await chooseDetector(values.model);
if (!chosen.ok) throw new Error(chosen.found);
const { findPlants, detector } = chosen.value;
const random = seededRandom(7);
const upTo = (most: number): number => most * (2 * random() - 1);
const moves: Homography[] = Array.from({ length: Number(values.moves) + 1 }, (_, i) => {
  const by = i === 0 ? 0 : 1;
  const scale = 1 + by * upTo(MOST_SHARE);
  return [scale, 0, by * upTo(MOST_M), 0, scale, by * upTo(MOST_M), 0, 0, 1];
});

const found: SceneScore[][] = [];
const marked: SceneScore[][] = [];
for (const scene of scenesIn(values.folder)) {
  const [a, b] = [await countMoved(scene, false), await countMoved(scene, true)];
  if (a === null || b === null) continue;
  found.push(a);
  marked.push(b);
  const counts = (scores: readonly SceneScore[]): string => scores.map((s) => String(s.count).padStart(3)).join('');
  console.log(
    `${basename(scene.path, '.jpg').padEnd(26)} true ${String(a[0]!.trueCount).padStart(2)}, found ${counts(a)}, marks ${counts(b)}`,
  );
}
summary('found', found);
summary('marks', marked);

async function countMoved(scene: Scene, marks: boolean): Promise<SceneScore[] | null> {
  const args = parseCountArgs(sceneArgs(scene, marks));
  if (!args.ok) throw new Error(args.found);
  const photo = await photoOf(scene);
  const prepared = preparePhoto(photo, args.value.options, () => 0);
  if ('none' in prepared.ground) return null;
  const { found: plane, stretch } = prepared.ground;
  const { raster, mmPerPx, alongAtLeftM, acrossAtTopM, camera } = prepared.strip;
  const area = {
    fromM: alongAtLeftM,
    toM: alongAtLeftM + (raster.widthPx * mmPerPx) / 1000,
    acrossFromM: acrossAtTopM - (raster.heightPx * mmPerPx) / 1000,
    acrossToM: acrossAtTopM,
    camera,
  };
  const scores: SceneScore[] = [];
  for (const move of moves) {
    const photoToGround = composeHomographies(move, plane.photoToGround);
    const strip = straighten(photo.raster, photoToGround, area);
    const coveredStripPx = plane.coveredPx.map((outline) => outline.map((p) => applyHomography(strip.photoToStrip, p)));
    const search = plane.coveredPx.length === 0 ? prepared.search : { ...prepared.search, coveredStripPx };
    const findings = await findPlants(strip, search);
    const ground = { found: { ...plane, photoToGround }, stretch };
    const { result } = countFindings({ ...prepared, ground, strip, search }, findings, detector, 0);
    scores.push(scoreScene(result, scene.truth));
  }
  return scores;
}

function summary(name: string, scenes: readonly (readonly SceneScore[])[]): void {
  const rows = moves.map((_, i) => {
    const scores = scenes.map((s) => s[i]!);
    const grown = scores.filter((s) => s.trueCount > 0);
    const off = grown.reduce((sum, s) => sum + Math.abs(s.count - s.trueCount) / s.trueCount, 0) / grown.length;
    const [hits, misses, extra] = (['matched', 'missed', 'falseAlarms'] as const).map((k) =>
      scores.reduce((sum, s) => sum + s[k], 0),
    ) as [number, number, number];
    return { off: 100 * off, f1: (2 * hits) / (2 * hits + misses + extra) };
  });
  const mean = (of: (row: (typeof rows)[number]) => number): number =>
    rows.reduce((sum, row) => sum + of(row), 0) / rows.length;
  console.log(
    `${name}: count error ${rows.map((r) => r.off.toFixed(1)).join(' ')} %, mean ${mean((r) => r.off).toFixed(1)} %; F1 ${rows.map((r) => r.f1.toFixed(3)).join(' ')}, mean ${mean((r) => r.f1).toFixed(3)}`,
  );
}
