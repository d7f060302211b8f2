import { describe, expect, it } from 'vitest';
import { cameraView } from '../../../src/core/plants/cameraView.ts';
import { findStems } from '../../../src/core/plants/findStems.ts';
import { segmentLeaves } from '../../../src/core/plants/segmentLeaves.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';
import { ANYWHERE, paintedStrip } from '../../support/drawnStrip.ts';

const GREEN = [88, 118, 46] as const;
const SOIL = [120, 98, 76] as const;
const STRAW = [212, 190, 140] as const;

/** A strip of 300 mm by 200 mm at 1 mm a pixel, seen from the side: the camera 1 m high, 1.2 m below its lower border. */
function fromTheSide(colourAt: (x: number, y: number) => readonly [number, number, number] | null): Strip {
  const strip = paintedStrip(300, 200, (x, y) => {
    // grain of a few digital numbers, repeatable
    const grain = ((x * 7 + y * 13) % 5) - 2;
    const [r, g, b] = colourAt(x, y) ?? SOIL;
    return [r + grain, g + grain, b + grain];
  });
  const camera = { alongM: 0.15, acrossM: strip.acrossAtTopM - 1.4, heightM: 1 };
  return { ...strip, mmPerPx: 1, alongAtLeftM: 0, camera };
}

/** A line three pixels wide from its foot upwards, leaning by `lean`. */
const line =
  (footX: number, footY: number, length: number, lean: number) =>
  (x: number, y: number): boolean =>
    y <= footY && y > footY - length && Math.abs(x - footX - lean * (footY - y)) <= 1.5;

const stemsIn = (strip: Strip) =>
  findStems(segmentLeaves(strip, ANYWHERE), strip.raster, cameraView(strip), { y0: 120, slope: 0, sdPx: 10 });

describe('findStems', () => {
  it('finds the foot of each upright and leaning stem within 4 mm', () => {
    const drawn = [line(60, 120, 60, 0), line(150, 126, 50, 0.25), line(230, 116, 60, -0.2)];
    const feet = stemsIn(fromTheSide((x, y) => (drawn.some((at) => at(x, y)) ? GREEN : null)))
      .map((s) => s.footPx)
      .sort((a, b) => a[0] - b[0]);
    expect(feet.length).toBe(3);
    // half a stem's width and the filter's step along it
    for (const [k, [x, y]] of [
      [60, 120],
      [150, 126],
      [230, 116],
    ].entries()) {
      expect(Math.hypot(feet[k]![0] - x!, feet[k]![1] - y!)).toBeLessThan(4);
    }
  });

  it('follows a stem over a leaf up to where it ends', () => {
    const stem = line(150, 120, 80, 0);
    const [found, ...others] = stemsIn(fromTheSide((x, y) => (stem(x, y) ? GREEN : null)));
    expect(others).toEqual([]);
    expect(Math.abs(found!.topPx[1] - 40)).toBeLessThan(8);
  });

  it('takes no straw, no leaf, and no line across the sight for a stem', () => {
    const straw = line(150, 120, 70, 0.1);
    expect(stemsIn(fromTheSide((x, y) => (straw(x, y) ? STRAW : null)))).toEqual([]);
    const leaf = (x: number, y: number): boolean => ((x - 150) / 15) ** 2 + ((y - 110) / 25) ** 2 <= 1;
    expect(stemsIn(fromTheSide((x, y) => (leaf(x, y) ? GREEN : null)))).toEqual([]);
    const lying = (x: number, y: number): boolean => Math.abs(y - 118) <= 1.5 && x > 100 && x < 200;
    expect(stemsIn(fromTheSide((x, y) => (lying(x, y) ? GREEN : null)))).toEqual([]);
  });

  it('finds none straight down', () => {
    const stem = line(150, 120, 60, 0);
    const strip = fromTheSide((x, y) => (stem(x, y) ? GREEN : null));
    expect(stemsIn({ ...strip, camera: { alongM: 0.15, acrossM: strip.acrossAtTopM - 0.1, heightM: 1.5 } })).toEqual(
      [],
    );
  });
});
