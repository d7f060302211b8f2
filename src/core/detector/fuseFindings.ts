import type { Detection, PlantFindings, PlantKind } from '../plants/detection.ts';
import type { Strip } from '../straighten/strip.ts';
import { gatherMarks, type Mark } from './gatherMarks.ts';
import { plantChance } from './plantChance.ts';
import { splitDouble } from './splitDouble.ts';

/** Farther off the row line than this, what is no plant of this row is called a weed. */
const OFF_ROW_MM = 60;
const COUNTED = 0.5;

/**
 * One list with one confidence from two kinds of evidence: the network says what looks like a plant, colour and the
 * camera's place say where the row line runs and which leaves belong together. What is more likely than not one plant is
 * called so, and a likely double is counted as two; the rest is kept as `weed` or `unsure`.
 */
export function fuseFindings(network: PlantFindings, colour: PlantFindings, strip: Strip): PlantFindings {
  const row = colour.rowLine ?? network.rowLine;
  const detections = gatherMarks(network, colour, strip)
    .map(toDetection)
    .flatMap((d) => splitDouble(d, strip.mmPerPx))
    .sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1])
    .map((d, k): Detection => ({ ...d, id: `p${k + 1}` }));
  return {
    detections,
    rowLine: row,
    warnings: network.warnings.filter((w) => w.code !== 'row-unclear' || row === null),
  };
}

function toDetection({ detection, evidence }: Mark): Detection {
  const confidence = plantChance(evidence);
  const kind: PlantKind =
    confidence >= COUNTED ? 'plant' : evidence.offRowMm > OFF_ROW_MM || detection.kind === 'weed' ? 'weed' : 'unsure';
  return { ...detection, kind, confidence };
}
