import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';

export interface BreakEven {
  /** Yield at which the crop pays its cost, in the price's own yield unit. */
  readonly yield: number;
  /** Price at which the expected yield pays the cost. */
  readonly price: number;
}

/**
 * Break-even yield and price of a cost per area. LSU AgCenter (Deliberto): 377.51 $/ac at 11 $/bu and 55 bu/ac needs
 * 34.32 bu or 6.86 $.
 */
export function breakEven(costPerArea: number, price: number, yieldPerArea: number): Outcome<BreakEven> {
  if (!(price > 0)) return cannot('no price', `a price of ${price}`, 'a price above 0', 'Enter the price of the crop.');
  if (!(yieldPerArea > 0)) {
    return cannot('no yield', `a yield of ${yieldPerArea}`, 'a yield above 0', 'Enter the yield of a full stand.');
  }
  return good({ yield: costPerArea / price, price: costPerArea / yieldPerArea });
}
