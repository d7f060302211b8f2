import { describe, expect, it } from 'vitest';
import { neighbourOdds } from '../../../src/core/plants/neighbourOdds.ts';

describe('neighbourOdds', () => {
  it('likes one seed spacing best, then two, and dislikes what lies between', () => {
    const odds = neighbourOdds(0.1);
    for (const mm of [60, 80, 120, 140, 200, 300]) expect(odds(100)).toBeGreaterThan(odds(mm));
    expect(odds(200)).toBeGreaterThan(odds(150));
    expect(odds(45)).toBeLessThan(odds(75));
  });

  it('allows a double more than a plant half way to it', () => {
    const odds = neighbourOdds(0.15);
    expect(odds(8)).toBeGreaterThan(odds(60));
  });

  it('is likelier at 85 mm than at 30 or 300 mm where the sowing is unknown, and finite everywhere', () => {
    const odds = neighbourOdds(null);
    expect(odds(85)).toBeGreaterThan(odds(30));
    expect(odds(85)).toBeGreaterThan(odds(300));
    for (const f of [odds, neighbourOdds(0.05)]) for (const mm of [0, 0.4, 5000]) expect(f(mm)).toBeGreaterThan(-10);
  });
});
