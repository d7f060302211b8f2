import { describe, expect, it } from 'vitest';
import { exponential } from '../../../src/core/geometry/exponential.ts';

describe('exponential', () => {
  it('is e to the power of its argument', () => {
    for (let x = -6; x <= 6; x += 0.137) {
      expect(Math.abs(exponential(x) / Math.exp(x) - 1)).toBeLessThan(1e-14);
    }
    expect(exponential(0)).toBe(1);
  });

  it('knows no bounds but those of numbers', () => {
    expect(exponential(Number.NaN)).toBeNaN();
    expect(exponential(1e9)).toBe(Number.POSITIVE_INFINITY);
    expect(exponential(-1e9)).toBe(0);
  });
});
