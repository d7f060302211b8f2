import { cannot, good, type Outcome } from '../faults/outcome.ts';
import type { PlantFindings } from '../plants/detection.ts';
import type { Strip } from '../straighten/strip.ts';
import { applyHead } from './applyHead.ts';
import { featuresOfAll } from './detectionFeatures.ts';
import { FEATURE_NAMES } from './featureNames.ts';
import type { Head } from './head.ts';
import type { StockMarks } from './stockMarks.ts';

export interface Judged {
  /** With a head its name is part of the version: results say what made them, and earlier ones stay what they are. */
  readonly detector: StockMarks['detector'];
  readonly findings: PlantFindings;
  /** What was said without the head. */
  readonly stock: StockMarks;
}

/** Digits kept of a feature: single precision is more than the learning needs. */
const DIGITS = 5;

/** The stock detector's findings as a head sees them, and what a later head can learn from. Marks keep their names. */
export function judgeFindings(
  detector: StockMarks['detector'],
  findings: PlantFindings,
  strip: Strip,
  head: Head | null,
): Judged {
  const features = featuresOfAll(findings, strip);
  const stock: StockMarks = {
    detector,
    featureNames: [...FEATURE_NAMES],
    marks: findings.detections.map(({ id, kind, confidence, doubleChance }, k) => ({
      id,
      kind,
      confidence,
      doubleChance,
      features: features[k]!.map((value) => Number(value.toPrecision(DIGITS))),
    })),
  };
  if (head === null) return { detector, findings, stock };
  return {
    detector: { name: detector.name, version: `${detector.version}+${head.id}` },
    findings: { ...findings, detections: applyHead(head, findings.detections, features) },
    stock,
  };
}

/** The head, where it learned on the marks of this detector and reads the features of this version. */
export function fittingHead(head: Head, { name, version }: StockMarks['detector']): Outcome<Head> {
  if (head.stock.name !== name || head.stock.version !== version) {
    return cannot(
      'other detector',
      `head ${head.id} learned on ${head.stock.name} ${head.stock.version}`,
      `one that learned on ${name} ${version}`,
      'Count with the stock detector, and learn anew from the corrections.',
    );
  }
  if (head.featureNames.join() !== FEATURE_NAMES.join()) {
    return cannot(
      'other features',
      `head ${head.id} reads features that this version does not make`,
      'a head of this version',
      'Count with the stock detector, and learn anew from the corrections.',
    );
  }
  return good(head);
}
