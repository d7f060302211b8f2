import { leanAt } from '../plants/cameraView.ts';
import type { Detection, PlantFindings } from '../plants/detection.ts';
import type { Strip } from '../straighten/strip.ts';
import { stripToGround } from '../straighten/stripGround.ts';
import { FEATURE_NAMES } from './featureNames.ts';
import { leafLook } from './leafLook.ts';
import { type MarkScene, markScene } from './markScene.ts';

/** Without another mark the neighbour counts as this far away, millimetres. */
const ALONE_MM = 1000;
/** A leaf area of nothing still has a logarithm, square millimetres. */
const LEAST_AREA_MM2 = 10;

/** The features of every mark of a strip, in the order of the marks. */
export function featuresOfAll(findings: PlantFindings, strip: Strip): readonly (readonly number[])[] {
  const scene = markScene(findings, strip);
  return findings.detections.map((d) => detectionFeatures(d, scene));
}

/** The numbers that stand for one mark, as `FEATURE_NAMES` lists them. They do not depend on the order of the marks. */
export function detectionFeatures(d: Detection, scene: MarkScene): readonly number[] {
  const { strip, view, findings } = scene;
  const mm = strip.mmPerPx;
  const [left, top, right, bottom] = d.boxStripPx;
  const alongMm = Math.max(1, (right - left) * mm);
  const acrossMm = Math.max(1, (bottom - top) * mm);
  const near = neighbours(d, scene);
  const look = leafLook(strip.raster, scene.index, scene.leafFrom, d.boxStripPx);
  const areaMm2 = Math.max(LEAST_AREA_MM2, d.leafAreaMm2);
  const values: Readonly<Record<(typeof FEATURE_NAMES)[number], number>> = {
    confidence: d.confidence,
    doubleChance: d.doubleChance,
    calledPlant: d.kind === 'plant' ? 1 : 0,
    calledWeed: d.kind === 'weed' ? 1 : 0,
    leafAreaOverPlants: Math.log(areaMm2 / Math.max(LEAST_AREA_MM2, scene.plantAreaMm2)),
    leafArea: Math.log(areaMm2 / 1000),
    boxSize: Math.log(Math.sqrt(alongMm * acrossMm) / 50),
    boxAspect: Math.log(alongMm / acrossMm),
    elongation: look?.elongation ?? 0,
    leafShare: look?.leafShare ?? 0,
    offRow: Math.log1p(offRowMm(d, scene) / 10),
    rowKnown: findings.rowLine === null ? 0 : 1,
    nearest: Math.log(Math.max(1, near[0]?.apartMm ?? ALONE_MM) / 100),
    secondNearest: Math.log(Math.max(1, near[1]?.apartMm ?? ALONE_MM) / 100),
    areaOverNearest: Math.log(areaMm2 / Math.max(LEAST_AREA_MM2, near[0]?.areaMm2 ?? areaMm2)),
    crownFromBase: Math.log(
      (1 + mm * Math.hypot(d.crownStripPx[0] - d.baseStripPx[0], d.crownStripPx[1] - d.baseStripPx[1])) / 10,
    ),
    redShare: look?.redShare ?? 1 / 3,
    greenShare: look?.greenShare ?? 1 / 3,
    greenOverSoil: look === null ? 0 : look.index - scene.soilIndex,
    greenSpread: look?.indexSd ?? 0,
    brightOverSoil: look === null ? 0 : look.logLight - scene.soilLogLight,
    brightSpread: look?.logLightSd ?? 0,
    roughness: look?.roughness ?? 0,
    viewTangent: leanAt(view, d.crownStripPx).tangent,
  };
  return FEATURE_NAMES.map((name) => values[name]);
}

function offRowMm(d: Detection, { strip, findings: { rowLine } }: MarkScene): number {
  if (rowLine === null) return 0;
  const [along, across] = stripToGround(strip, d.baseStripPx);
  return 1000 * Math.abs(across - rowLine.acrossAtZeroM - rowLine.slope * along);
}

/** Other marks that may be plants, the nearest first; of two equally near ones the larger. */
function neighbours(d: Detection, { strip, findings }: MarkScene): readonly { apartMm: number; areaMm2: number }[] {
  const [x, y] = d.baseStripPx;
  return findings.detections
    .filter((other) => other.id !== d.id && other.kind !== 'weed')
    .map((other) => ({
      apartMm: strip.mmPerPx * Math.hypot(other.baseStripPx[0] - x, other.baseStripPx[1] - y),
      areaMm2: other.leafAreaMm2,
    }))
    .sort((a, b) => a.apartMm - b.apartMm || b.areaMm2 - a.areaMm2);
}
