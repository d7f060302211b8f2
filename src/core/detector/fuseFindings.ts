import type { Detection, PlantFindings, PlantKind } from '../plants/detection.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import { gatherMarks, type Mark } from './gatherMarks.ts';
import { loneDoubles } from './loneDoubles.ts';
import { plantChance } from './plantChance.ts';
import { splitDouble } from './splitDouble.ts';

/** Farther off the row line than this, what is no plant of this row is called a weed. */
const OFF_ROW_MM = 60;
const COUNTED = 0.5;
/** Less likely a plant of the row than this, and not seen for a plant or a weed by the network, is not told. */
const NOTHING = 0.02;

/**
 * One list with one confidence from two kinds of evidence: the network says what looks like a plant, colour and the
 * camera's place say where the row line runs and which leaves belong together. What is more likely than not one plant is
 * called so, and a likely double is counted as two; the rest is kept as `weed` or `unsure`.
 *
 * @param scaleKnown false where lengths are only claimed: then distances say little about what is one plant, and the
 * network's word stands but for marks far off the row. (Real photos of an assumed scale, weighed / network's word:
 * cotton F1 0.77 / 0.88, sesame 0.92 / 0.97.)
 */
export function fuseFindings(
  network: PlantFindings,
  colour: PlantFindings,
  strip: Strip,
  scaleKnown = true,
): PlantFindings {
  const row = colour.rowLine ?? network.rowLine;
  const marks = gatherMarks(network, colour, strip);
  const told = loneDoubles(scaleKnown ? marks.flatMap(weighed) : onNetworksWord(marks, row), strip.mmPerPx);
  const detections = told
    .flatMap((d) => (scaleKnown ? splitDouble(d, strip.mmPerPx) : [d]))
    .sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1])
    .map((d, k): Detection => ({ ...d, id: `p${k + 1}` }));
  return {
    detections,
    rowLine: row,
    warnings: network.warnings.filter((w) => w.code !== 'row-unclear' || row === null),
  };
}

/** A mark with its joint confidence. A stone or a straw at which the network started is no weed, and nobody is asked of it. */
function weighed({ detection, evidence }: Mark): Detection[] {
  const confidence = plantChance(evidence);
  const seen = evidence.networkSaysWeed || (evidence.network ?? 0) >= COUNTED;
  if (!seen && confidence < NOTHING) return [];
  const kind: PlantKind =
    confidence >= COUNTED ? 'plant' : evidence.offRowMm > OFF_ROW_MM || detection.kind === 'weed' ? 'weed' : 'unsure';
  return [{ ...detection, kind, confidence }];
}

/** Off the row by more than this many of its standard deviations (a stem's own scatter of 10 mm at least). */
const OFF_ROW_SDS = 3.5;
const ROW_SCATTER_MM = 10;
/** Two plants always stand on one line, and three easily: a row is a row from here on. */
const ROW_OF = 4;

function onNetworksWord(marks: readonly Mark[], row: PlantFindings['rowLine']): Detection[] {
  const limit = Math.max(OFF_ROW_MM, OFF_ROW_SDS * Math.max(ROW_SCATTER_MM, 1000 * (row?.sdM ?? 0)));
  const seen = marks.filter((m) => m.evidence.network !== null);
  const onRow = seen.filter((m) => m.detection.kind === 'plant' && m.evidence.offRowMm <= limit);
  return seen.map(({ detection: mark, evidence }) => {
    // looks more like a weed to the network: a crop plant less likely than not
    const detection = mark.kind === 'weed' ? { ...mark, confidence: mark.confidence / 2 } : mark;
    if (onRow.length < ROW_OF || evidence.offRowMm <= limit) return detection;
    const confidence = detection.confidence * Math.exp(-0.5 * OFF_ROW_SDS * square(evidence.offRowMm / limit));
    return { ...detection, kind: detection.kind === 'plant' ? 'weed' : detection.kind, confidence };
  });
}
