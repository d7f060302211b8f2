import { describe, expect, it } from 'vitest';
import { trackPeriods } from '../../../../src/core/reference/tape/trackPeriods.ts';
import { seeded } from '../../../support/drawLineScene.ts';

const COLUMNS = 2000;
const PERIODS = 200;

/** Ticks whose spacing swells and shrinks by `swing` about the mean, a wave every quarter of the band, with noise. */
function ticks(swing: number, noise: number): { signals: Float32Array[]; periods: number } {
  const random = seeded(7);
  const rate = (k: number): number => (PERIODS / COLUMNS) * (1 + swing * Math.sin((8 * Math.PI * k) / COLUMNS));
  const signal = new Float32Array(COLUMNS);
  let phase = 0;
  for (let k = 0; k < COLUMNS; k++) {
    phase += rate(k);
    const part = phase - Math.floor(phase);
    signal[k] = (part < 0.25 ? 0.75 : -0.25) + noise * (random() - 0.5);
  }
  return { signals: [signal, signal, signal, signal], periods: phase };
}

describe('trackPeriods', () => {
  it('counts ticks that swell and shrink by 12 % to 1 %, noise as strong as they are', () => {
    const { signals, periods } = ticks(0.12, 1);
    const phase = trackPeriods(signals, 0, PERIODS / 2)!;
    expect(Math.abs((phase[COLUMNS - 1]! - phase[0]!) / periods - 1)).toBeLessThan(0.01);
    // half way through a swell: a quarter wave of 12 % is 3 periods ahead of even ticks
    const quarter = COLUMNS / 8;
    const ahead = phase[quarter]! - phase[0]! - (PERIODS * quarter) / COLUMNS;
    expect(ahead).toBeGreaterThan(2);
    expect(ahead).toBeLessThan(5);
  });

  it('grows steadily: readings never run backwards', () => {
    const phase = trackPeriods(ticks(0.15, 0.5).signals, 0.1, PERIODS / 2.02)!;
    for (let k = 1; k < COLUMNS; k++) expect(phase[k]!).toBeGreaterThan(phase[k - 1]!);
  });

  it('answers nothing for a band too short to have stretches', () => {
    expect(trackPeriods([new Float32Array(60), new Float32Array(60)], 0, 5)).toBeNull();
  });
});
