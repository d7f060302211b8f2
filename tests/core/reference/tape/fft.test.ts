import { describe, expect, it } from 'vitest';
import { fft } from '../../../../src/core/reference/tape/fft.ts';
import { seeded } from '../../../support/drawLineScene.ts';

describe('fft', () => {
  it('agrees with the sum that defines the discrete Fourier transform', () => {
    const n = 32;
    const random = seeded(1);
    const re = Float64Array.from({ length: n }, () => random() - 0.5);
    const im = Float64Array.from({ length: n }, () => random() - 0.5);
    const [a, b] = [Float64Array.from(re), Float64Array.from(im)];
    fft(a, b);
    // the tables are single precision (6e-8) and 32 terms under 1 add up
    for (let k = 0; k < n; k++) {
      let sumRe = 0;
      let sumIm = 0;
      for (let j = 0; j < n; j++) {
        const angle = (-2 * Math.PI * j * k) / n;
        sumRe += re[j]! * Math.cos(angle) - im[j]! * Math.sin(angle);
        sumIm += re[j]! * Math.sin(angle) + im[j]! * Math.cos(angle);
      }
      expect(a[k]).toBeCloseTo(sumRe, 6);
      expect(b[k]).toBeCloseTo(sumIm, 6);
    }
  });

  it('refuses lengths that are no power of two', () => {
    expect(() => fft(new Float64Array(6), new Float64Array(6))).toThrow(RangeError);
  });
});
