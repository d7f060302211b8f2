import { describe, expect, it } from 'vitest';
import { cameraView } from '../../../src/core/plants/cameraView.ts';
import { type LeafPart, leafParts } from '../../../src/core/plants/leafParts.ts';
import { segmentLeaves } from '../../../src/core/plants/segmentLeaves.ts';
import { starFit } from '../../../src/core/plants/starFit.ts';
import { ANYWHERE, stripFromText } from '../../support/drawnStrip.ts';

/** A leaf as broad as long at its left, running out to the right. */
const TO_THE_RIGHT = `
  ........................
  .....GGGG...............
  ....GGGGGGGG............
  ...GGGGGGGGGGGG.........
  ...GGGGGGGGGGGGGGGGG....
  ...GGGGGGGGGGGG.........
  ....GGGGGGGG............
  .....GGGG...............
  ........................`;

/** Skewness of the columns of all G, by the textbook definition. */
function columnSkewness(text: string): number {
  const columns = text.split('\n').flatMap((line) => [...line.trim()].flatMap((c, x) => (c === 'G' ? [x] : [])));
  const moment = (of: (x: number) => number): number => columns.reduce((sum, x) => sum + of(x), 0) / columns.length;
  const mean = moment((x) => x);
  return moment((x) => (x - mean) ** 3) / moment((x) => (x - mean) ** 2) ** 1.5;
}

function onlyPart(text: string): { readonly part: LeafPart; readonly strip: ReturnType<typeof stripFromText> } {
  const strip = stripFromText(text);
  const { parts } = leafParts(segmentLeaves(strip, ANYWHERE), strip.raster, strip.mmPerPx);
  expect(parts.length).toBe(1);
  return { part: parts[0]!, strip };
}

describe('leafParts', () => {
  it('points the axis of a leaf to its tip, whichever way it lies', () => {
    const right = onlyPart(TO_THE_RIGHT).part;
    expect(right.axis[0]).toBeGreaterThan(0.95);
    const left = onlyPart(
      TO_THE_RIGHT.split('\n')
        .map((line) => [...line.trim()].reverse().join(''))
        .join('\n'),
    ).part;
    expect(left.axis[0]).toBeLessThan(-0.95);
    // the leaf's edge is smoothed by a pixel or two
    for (const { taper } of [left, right]) expect(Math.abs(taper - columnSkewness(TO_THE_RIGHT))).toBeLessThan(0.1);
  });

  it('makes a plant of two leaves broad end to broad end, rather than tip to tip', () => {
    const { part, strip } = onlyPart(TO_THE_RIGHT);
    const view = cameraView(strip);
    const shift = 1.3 * (part.lengthMm / strip.mmPerPx);
    const middle = part.centrePx[0] - shift / 2;
    const mirror = (x: number): number => 2 * middle - x;
    const other: LeafPart = {
      ...part,
      id: 1,
      centrePx: [mirror(part.centrePx[0]), part.centrePx[1]],
      axis: [-part.axis[0], part.axis[1]],
      // mirrored, and in rising angle again
      outlinePx: part.outlinePx.map((_, k, all) => {
        const [x, y] = all[(24 - k) % 16]!;
        return [mirror(x), y] as const;
      }),
    };
    const cost = (a: LeafPart, b: LeafPart): number =>
      starFit([a, b], [middle, part.centrePx[1]], view, part.lengthMm).cost;
    const turned = (p: LeafPart): LeafPart => ({ ...p, axis: [-p.axis[0], -p.axis[1]] });
    expect(cost(part, other)).toBeLessThan(cost(turned(part), turned(other)) - 0.2);
  });
});
