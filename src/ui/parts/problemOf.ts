import { type Dimension, parseQuantity } from '../../core/visit/quantity.ts';

/** What is wrong with a quantity as typed, for `TextField`. */
export const problemOf =
  (dimension: Dimension) =>
  (text: string): string | null => {
    const read = parseQuantity(text, dimension);
    return read.ok ? null : `Wanted ${read.wanted}`;
  };
