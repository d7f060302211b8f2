import { type CameraView, cameraView } from '../plants/cameraView.ts';
import type { Detection, PlantFindings } from '../plants/detection.ts';
import { greenThreshold } from '../plants/greenThreshold.ts';
import type { Field } from '../raster/raster.ts';
import { vegetationIndex } from '../raster/vegetationIndex.ts';
import type { Strip } from '../straighten/strip.ts';
import { logLight } from './leafLook.ts';

/** What the features of all marks of one strip have in common: worked out once. */
export interface MarkScene {
  readonly strip: Strip;
  readonly findings: PlantFindings;
  readonly view: CameraView;
  readonly index: Field<Float32Array>;
  readonly leafFrom: number;
  readonly soilIndex: number;
  /** Median of ln brightness where there is no leaf. */
  readonly soilLogLight: number;
  /** Median leaf area of the marks called plant (of all marks where none is), square millimetres. */
  readonly plantAreaMm2: number;
}

/** Every so many pixels are enough for a median; shares no factor with usual widths. */
const STRIDE = 37;

export function markScene(findings: PlantFindings, strip: Strip): MarkScene {
  const index = vegetationIndex(strip.raster);
  const { leaf, soil } = greenThreshold(index);
  const light: number[] = [];
  for (let i = 0; i < index.data.length; i += STRIDE) {
    if (index.data[i]! > -2 && index.data[i]! <= leaf) light.push(logLight(strip.raster, i));
  }
  const plants = findings.detections.filter((d) => d.kind === 'plant');
  return {
    strip,
    findings,
    view: cameraView(strip),
    index,
    leafFrom: leaf,
    soilIndex: soil,
    soilLogLight: median(light) ?? 0,
    plantAreaMm2: median((plants.length > 0 ? plants : findings.detections).map(area)) ?? 0,
  };
}

function area(d: Detection): number {
  return d.leafAreaMm2;
}

function median(values: readonly number[]): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}
