import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { orderOf } from '../../../../src/core/reference/line/orderOf.ts';

describe('orderOf', () => {
  it('orders as a stable sort does', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -20, max: 20 })), (list) => {
        const values = Float64Array.from(list, (v) => v / 4);
        const wanted = list.map((_, i) => i).sort((i, j) => values[i]! - values[j]!);
        expect(Array.from(orderOf(values))).toEqual(wanted);
      }),
    );
  });
});
