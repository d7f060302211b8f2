import type { CountTools } from '../count/photoAnalysis.ts';
import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { applyHead } from './applyHead.ts';
import { featuresOfAll } from './detectionFeatures.ts';
import { FEATURE_NAMES } from './featureNames.ts';
import type { Head } from './head.ts';

type Detector = Pick<CountTools, 'detector' | 'findPlants'>;

/**
 * The stock detector with a head on top, to count with. The head's name becomes part of the version, so a result says
 * what made it and earlier results stay what they are. Marks keep their names. Refuses a head that was trained on the
 * marks of another detector, or on other features.
 */
export function withHead(stock: Detector, head: Head): Outcome<Detector> {
  const { name, version } = stock.detector;
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
  return good({
    detector: { name, version: `${version}+${head.id}` },
    findPlants: async (strip, search) => {
      const findings = await stock.findPlants(strip, search);
      return { ...findings, detections: applyHead(head, findings.detections, featuresOfAll(findings, strip)) };
    },
  });
}
