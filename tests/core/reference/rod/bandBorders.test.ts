import { describe, expect, test } from 'vitest';
import { bandBorders } from '../../../../src/core/reference/rod/bandBorders.ts';
import type { RodExtent } from '../../../../src/core/reference/rod/rodExtent.ts';

/** Logs of 8-bit red, green, blue: white paint, red paint, a leaf, a shaded one. */
const COLOURS = {
  w: [160, 168, 170],
  r: [135, 45, 41],
  L: [60, 110, 35],
  d: [25, 50, 16],
  // three quarters of the light
  W: [120, 126, 128],
  R: [101, 34, 31],
} as const;

/** A rod of which every letter is two pixels. */
function rod(profile: string): RodExtent {
  const logs = [...profile].map((letter) => {
    const [r, g, b] = COLOURS[letter as keyof typeof COLOURS];
    return [Math.log(r), Math.log(g), Math.log(b)] as const;
  });
  const [white, red] = [logs[profile.indexOf('w')]!, logs[profile.indexOf('r')]!];
  return {
    ribbon: {
      origin: [0, 0],
      dir: [1, 0],
      bow: [0, 0, 0, 0],
      width: [12, 0],
      scaleS: 1,
      fromS: 0,
      toS: 2 * logs.length,
    },
    endsSeen: [true, true],
    endSdPx: [1, 1],
    visibleShare: 1,
    colour: [...white],
    colours: [white, red],
    profile: logs,
    profileFromS: 1,
    stepPx: 2,
  };
}

/** To the pixel: half a step in from a shadow's tint is no border lost. */
const places = (profile: string) =>
  bandBorders(rod(profile)).map(({ s, turn }) => `${turn > 0 ? '+' : '-'}${Math.round(s)}`);

describe('where a rod changes its colour', () => {
  test('every border is one, and it says which colour begins', () => {
    expect(places(`${'w'.repeat(20)}${'r'.repeat(20)}${'w'.repeat(20)}`)).toEqual(['+40', '-80']);
  });

  test('a leaf over a white band is no red band, in sun or shade', () => {
    const bare = places(`${'w'.repeat(30)}${'r'.repeat(30)}`);
    expect(places(`${'w'.repeat(8)}${'L'.repeat(10)}${'w'.repeat(12)}${'r'.repeat(30)}`)).toEqual(bare);
    expect(places(`${'w'.repeat(8)}${'d'.repeat(10)}${'w'.repeat(12)}${'r'.repeat(30)}`)).toEqual(bare);
  });

  test('a light shadow over the rod makes none and takes none away', () => {
    expect(places(`${'w'.repeat(10)}${'W'.repeat(10)}${'R'.repeat(10)}${'r'.repeat(10)}`)).toEqual(['+40']);
  });

  test('a border under a leaf is not told', () => {
    expect(places(`${'w'.repeat(20)}${'L'.repeat(12)}${'r'.repeat(20)}`)).toEqual([]);
  });
});
