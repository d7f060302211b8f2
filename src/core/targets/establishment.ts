import { cannot, good, type Outcome } from '../faults/outcome.ts';
import { publishedWith, type Source } from '../sources/source.ts';

/** Share of seeds dropped that became plants. */
export interface Establishment {
  readonly share: number;
  readonly reasons: readonly string[];
}

/**
 * Stand over seeds dropped, both per the same area. A share above 1 is given, with what it means: more plants than seeds
 * point to a wrong seed drop or row width, or to counted weeds. Refuses a drop of 0.
 */
export function establishment(plants: number, seedsDropped: number): Outcome<Establishment> {
  if (!(seedsDropped > 0) || !(plants >= 0)) {
    const found = `${plants} plants of ${seedsDropped} seeds`;
    return cannot('establishment', found, 'plants from 0 on, of seeds above 0', 'Give the seed drop of the planter.');
  }
  const share = plants / seedsDropped;
  const reasons =
    share > 1 ? ['more plants than seeds: check the seed drop, the row width, and for weeds counted'] : [];
  return good({ share, reasons });
}

/**
 * Plants to expect of the seeds planted, where only seeds are given: growers overseed by 10 to 15 % to make up for what
 * does not emerge, so a stand is seeds / 1.15 to seeds / 1.10. (To divide by 0.90 is another rule: 90,000 becomes
 * 100,000, not 99,000.)
 */
export const PLANTS_PER_SEED: { readonly low: number; readonly high: number; readonly source: Source } = {
  low: 1 / 1.15,
  high: 1 / 1.1,
  source: publishedWith('overseed by 10 to 15 % for emergence loss', 'northarvest2007'),
};
