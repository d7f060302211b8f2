import { describe, expect, it } from 'vitest';
import type { Raster } from '../../../../src/core/raster/raster.ts';
import { greenPoints } from '../../../../src/core/reference/rows/greenPoints.ts';

const COLOURS = { '.': [120, 100, 80], G: [90, 140, 50], W: [235, 235, 235], d: [10, 14, 8] } as const;

function drawn(rows: readonly string[]): Raster {
  const widthPx = rows[0]!.length;
  const pixels = [...rows.join('')].flatMap((c) => [...COLOURS[c as keyof typeof COLOURS], 255]);
  return { widthPx, heightPx: rows.length, data: Uint8Array.from(pixels) };
}

describe('greenPoints', () => {
  it('takes leaves, not soil, paper or darkness', () => {
    const { x, y } = greenPoints(drawn(['..G...', 'WW..d.', '.....G']));
    expect([...x].map((v, i) => [v, y[i]])).toEqual([
      [2, 0],
      [5, 2],
    ]);
  });

  it('finds none on bare soil', () => {
    expect(greenPoints(drawn(['....', '....'])).x).toHaveLength(0);
  });
});
