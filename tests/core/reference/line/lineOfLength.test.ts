import { describe, expect, it } from 'vitest';
import { fitLineMap } from '../../../../src/core/geometry/fitLineMap.ts';
import { lineOfLength } from '../../../../src/core/reference/line/lineOfLength.ts';
import type { Ribbon } from '../../../../src/core/reference/line/ribbon.ts';

const ribbon: Ribbon = {
  origin: [1500, 900],
  dir: [1, 0],
  bow: [0],
  width: [30, 6],
  scaleS: 1000,
  fromS: -1000,
  toS: 1000,
};
const TAPER_SD_PX = 0.8;
const found = {
  extent: { ribbon, endsSeen: [true, true], endSdPx: [1, 1], visibleShare: 1, colour: [1, 1, 1] },
  traced: { ribbon, contrast: [1, 1, 1], edgeShare: 1, edgeSpreadPx: 0.5, taperSdPx: TAPER_SD_PX },
} as const;

describe('a line of known length without legible marks', () => {
  const line = lineOfLength('rod', found, 2, []);

  it('reads closer together where it narrows', () => {
    expect(line.endsM).toEqual([0, 2]);
    // width as 1 + 0.2 u: the middle reads (1 + 0.2) / 2 of the length
    expect(line.readings[4]!.readingM).toBeCloseTo(1.2, 9);
  });

  it('knows its foreshortening no better than its taper is known, however many readings show it', () => {
    const map = fitLineMap(line.readings.map((r) => ({ value: r.readingM, at: [r.xPx, r.yPx], sd: r.sdPx })))!;
    const taperSd = 1.5 * (TAPER_SD_PX / 30);
    const sd = Math.sqrt(map.covariance[4]![4]!);
    expect(sd / taperSd).toBeGreaterThan(0.9);
    expect(sd / taperSd).toBeLessThan(1.1);
  });
});
