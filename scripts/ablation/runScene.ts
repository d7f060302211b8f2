import { performance } from 'node:perf_hooks';
import { parseCountArgs } from '../../src/cli/commands/parseCountArgs.ts';
import { countFindings } from '../../src/core/count/countFindings.ts';
import type { CountResult } from '../../src/core/count/countResult.ts';
import { preparePhoto } from '../../src/core/count/preparePhoto.ts';
import { featuresOfAll } from '../../src/core/learning/detectionFeatures.ts';
import type { Example } from '../../src/core/learning/example.ts';
import type { Detection, PlantFindings, PlantSearch } from '../../src/core/plants/detection.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { sceneArgs } from '../score/sceneArgs.ts';
import type { Scene, SceneTruth } from '../score/sceneTruth.ts';
import { type SceneScore, scoreScene } from '../score/scoreScene.ts';
import type { Arm, Findings } from './detectors.ts';
import { type Doubles, doublesIn } from './doubles.ts';
import { labelMarks } from './labelMarks.ts';

/** One scene at one scale. */
export interface SceneRun {
  readonly name: string;
  readonly truth: SceneTruth;
  readonly scale: 'found' | 'marks';
  readonly arms: ReadonlyMap<Arm, ArmRun>;
  /** The joined marks as a head would learn them. */
  readonly examples: readonly Example[];
  /** Counts other chances for the same marks. */
  readonly recount: (detections: readonly Detection[]) => ArmRun;
  readonly fused: readonly Detection[];
}

export interface ArmRun {
  readonly score: SceneScore;
  readonly doubles: Doubles;
  readonly plantsPerM: number;
  readonly ms: number;
  /** Confidence of every mark of the stretch, and whether it truly is one plant. */
  readonly marks: readonly { readonly confidence: number; readonly right: boolean }[];
}

const ABLATION = { name: 'ablation', version: '1' };

/** Straightens a scene once and counts it with every detector; null where no scale was found. */
export async function runScene(
  scene: Scene,
  scale: SceneRun['scale'],
  find: (strip: Strip, search: PlantSearch) => Promise<Findings>,
): Promise<SceneRun | null> {
  const args = parseCountArgs(sceneArgs(scene, scale === 'marks'));
  if (!args.ok) throw new Error(`${scene.path}: ${args.found}`);
  const photo = await readPhoto(scene.path);
  if (!photo.ok) throw new Error(photo.found);
  const prepared = preparePhoto(photo.value, args.value.options, () => performance.now());
  if ('none' in prepared.ground) return null;
  const { strip, search } = prepared;
  const findings = await find(strip, search);
  const counted = (found: PlantFindings) => countFindings(prepared, found, ABLATION, performance.now()).result;
  const recount = (detections: readonly Detection[], ms = 0) =>
    scored(counted({ ...findings.fused.findings, detections }), scene.truth, ms);
  const { detections } = findings.fused.findings;
  const features = featuresOfAll(findings.fused.findings, strip);
  const labels = labelMarks(counted(findings.fused.findings).plants, scene.truth);
  const name = scene.truth.image.replace(/\.\w+$/, '');
  return {
    name,
    truth: scene.truth,
    scale,
    arms: new Map(
      (['colour', 'network', 'fused'] as const).map((arm) => [
        arm,
        recount(findings[arm].findings.detections, findings[arm].ms),
      ]),
    ),
    examples: detections.map(({ id, kind, confidence, doubleChance }, k) => ({
      photo: name,
      markId: id,
      stock: { kind, confidence, doubleChance },
      features: features[k]!,
      label: labels[k]!,
    })),
    recount,
    fused: detections,
  };
}

function scored(result: CountResult, truth: SceneTruth, ms: number): ArmRun {
  const labels = labelMarks(result.plants, truth);
  return {
    score: scoreScene(result, truth),
    doubles: doublesIn(result.plants, truth),
    plantsPerM: result.count.value / result.stretch!.lengthM,
    ms,
    marks: result.plants.flatMap(({ inStretch, confidence }, k) =>
      inStretch ? [{ confidence, right: labels[k] === 'plant' }] : [],
    ),
  };
}
