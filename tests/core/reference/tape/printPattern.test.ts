import { describe, expect, it } from 'vitest';
import { BINS, likenesses } from '../../../../src/core/reference/tape/printPattern.ts';
import { seeded } from '../../../support/drawLineScene.ts';

describe('likenesses', () => {
  it('are the correlations of each column with the pattern at its place, for every shift', () => {
    const random = seeded(5);
    const [groups, columns] = [3, 140];
    const mean = Float64Array.from({ length: groups * BINS }, () => random() - 0.5);
    const signals = Array.from({ length: groups }, () => Float32Array.from({ length: columns }, () => random() - 0.5));
    const valid = Uint8Array.from({ length: columns }, () => (random() < 0.8 ? 1 : 0));
    const phase = Float64Array.from({ length: columns }, (_, k) => k * 0.0871 - 3);
    const [shift, from, to, count, stride] = [0.37, 11, 133, 31, 2];
    const seen = likenesses(mean, groups, signals, valid, phase, shift, from, to, count, stride);
    for (let j = 0; j < count; j++) {
      let [xy, xx, yy] = [0, 0, 0];
      for (let k = from; k < to; k++) {
        if (valid[k] === 0) continue;
        const place = (phase[k]! + shift + (j * stride) / BINS) * BINS;
        const [low, part] = [Math.floor(place), place - Math.floor(place)];
        const bin = (b: number): number => ((b % BINS) + BINS) % BINS;
        for (let g = 0; g < groups; g++) {
          const y = mean[g * BINS + bin(low)]! * (1 - part) + mean[g * BINS + bin(low + 1)]! * part;
          xy += signals[g]![k]! * y;
          xx += signals[g]![k]! * signals[g]![k]!;
          yy += y * y;
        }
      }
      expect(seen[j]).toBeCloseTo(xy / Math.sqrt(xx * yy), 9);
    }
  });

  it('is 0 where nothing is valid', () => {
    const none = new Uint8Array(40);
    const signal = new Float32Array(40).fill(1);
    expect(
      Array.from(likenesses(new Float64Array(BINS).fill(1), 1, [signal], none, new Float64Array(40), 0, 0, 40, 3, 1)),
    ).toEqual([0, 0, 0]);
  });
});
