import { describe, expect, it } from 'vitest';
import type { BandBorder } from '../../../../src/core/reference/rod/bandBorders.ts';
import { fitBands } from '../../../../src/core/reference/rod/fitBands.ts';

/** Borders of `bands` bands seen with foreshortening c, those listed hidden. */
function borders(bands: number, c: number, hidden: readonly number[]): BandBorder[] {
  const out: BandBorder[] = [];
  const total = 1 / (1 + c) + 1 / (1 - c);
  for (let i = 1; i < bands; i++) {
    if (hidden.includes(i)) continue;
    const t = -1 / (1 - c) + (total * i) / bands;
    out.push({ s: (1000 * t) / (1 - c * t), turn: i % 2 === 0 ? 1 : -1 });
  }
  return out;
}

const spanOf = (fit: { perT: number; c: number } | null) =>
  fit === null ? Number.NaN : fit.perT * (1 / (1 + fit.c) + 1 / (1 - fit.c));

describe('fitBands', () => {
  it.each([
    [6, 0, []],
    [10, 0.3, []],
    [10, -0.45, [3, 4]],
    [12, 0.2, [2, 5, 6, 9]],
  ] as const)('counts %i bands at foreshortening %f with borders %j hidden', (bands, c, hidden) => {
    expect(spanOf(fitBands(borders(bands, c, hidden), 0, 1000, c + 0.01, 0.01))).toBeCloseTo(bands, 2);
  });

  it('ignores a border that is none', () => {
    const seen = borders(8, 0.1, []);
    seen.splice(3, 0, { s: seen[2]!.s + 40, turn: seen[2]!.turn === 1 ? -1 : 1 });
    expect(spanOf(fitBands(seen, 0, 1000, 0.1, 0.01))).toBeCloseTo(8, 2);
  });

  it('gives nothing for fewer than three borders', () => {
    expect(fitBands(borders(3, 0, []), 0, 1000, 0, 0.01)).toBeNull();
  });
});
