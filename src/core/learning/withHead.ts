import type { CountTools } from '../count/photoAnalysis.ts';
import { good, type Outcome } from '../faults/outcome.ts';
import type { Head } from './head.ts';
import { fittingHead, judgeFindings } from './judgeFindings.ts';

type Detector = Pick<CountTools, 'detector' | 'findPlants'>;

/** The stock detector with a head on top, to count with; refuses a head that does not fit it. */
export function withHead(stock: Detector, head: Head): Outcome<Detector> {
  const fits = fittingHead(head, stock.detector);
  if (!fits.ok) return fits;
  const { name, version } = stock.detector;
  return good({
    detector: { name, version: `${version}+${head.id}` },
    findPlants: async (strip, search) =>
      judgeFindings(stock.detector, await stock.findPlants(strip, search), strip, head).findings,
  });
}
