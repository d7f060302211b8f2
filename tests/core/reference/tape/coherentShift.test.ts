import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../scripts/scenes/random.ts';
import { coherentShift, type ShiftProfile } from '../../../../src/core/reference/tape/coherentShift.ts';

// Profiles made by hand: truth is what they were made with.
const PARTS = 24;
const random = seededRandom(3);
/** A stretch whose print is right when moved by `shift` periods (whole periods are all alike), in faint noise. */
const stretch = (t: number, shift: number, strength = 0.4): ShiftProfile => ({
  t,
  columns: 40,
  likeness: Float64Array.from({ length: PARTS }, (_, b) => {
    const off = b / PARTS - shift - Math.round(b / PARTS - shift);
    return strength * Math.exp(-0.5 * (off / 0.08) ** 2) + 0.05 * random.normal(0, 1);
  }),
});
const places = Array.from({ length: 24 }, (_, i) => -1.2 + (2 * i) / 23);
const truth = (t: number): number => 0.3 + 0.9 * t - 0.5 * t * t;
const at = (s: { offset: number; slope: number; bend: number }, t: number): number =>
  s.offset + s.slope * t + s.bend * t * t;

describe('coherentShift', () => {
  it('finds a shift of more than a period from end to end, within the step of its search', () => {
    const found = coherentShift(
      places.map((t) => stretch(t, truth(t))),
      2,
      1,
    )!;
    const length = at(found, places[23]!) - at(found, places[0]!);
    expect(Math.abs(length - (truth(places[23]!) - truth(places[0]!)))).toBeLessThan(0.15);
    expect(found.lengthSd).toBeLessThan(0.15);
  });

  it('stretches without print in the midst do not lead it astray', () => {
    const faint = places.map((t, i) => stretch(t, truth(t), i > 7 && i < 15 ? 0 : 0.4));
    const found = coherentShift(faint, 2, 1)!;
    expect(Math.abs(at(found, 0.8) - at(found, -1.2) - (truth(0.8) - truth(-1.2)))).toBeLessThan(0.25);
  });

  it('says more doubt where the print ends long before the band does', () => {
    const half = coherentShift(
      places.map((t, i) => stretch(t, truth(t), i < 8 ? 0.4 : 0)),
      2,
      1,
    )!;
    const whole = coherentShift(
      places.map((t) => stretch(t, truth(t))),
      2,
      1,
    )!;
    expect(half.lengthSd).toBeGreaterThan(3 * whole.lengthSd);
  });

  it('tells nothing from three stretches', () => {
    expect(
      coherentShift(
        [-1, 0, 1].map((t) => stretch(t, 0)),
        1,
        1,
      ),
    ).toBeNull();
  });
});
