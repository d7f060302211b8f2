import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parseCountArgs } from '../../src/cli/commands/parseCountArgs.ts';
import type { PreparedPhoto } from '../../src/core/count/preparedPhoto.ts';
import { preparePhoto } from '../../src/core/count/preparePhoto.ts';
import { applyHomography } from '../../src/core/geometry/homography.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { halvedStrip, quickLook } from '../../src/worker/quickLook.ts';

const nowMs = () => 0;
const SAMPLE = 'sample-images/down-frame';

interface Truth {
  readonly countArgs: string[];
  readonly plants: readonly { readonly kind: string; readonly alongM: number }[];
}

/** A rendered sample with ten plants in a frame of one metre, seen from straight above. */
async function prepared(): Promise<{ ready: PreparedPhoto; truth: Truth }> {
  const truth = JSON.parse(readFileSync(`${SAMPLE}.truth.json`, 'utf8')) as Truth;
  const args = parseCountArgs([`${SAMPLE}.jpg`, ...truth.countArgs]);
  const photo = await readPhoto(`${SAMPLE}.jpg`);
  if (!args.ok || !photo.ok) throw new Error('the sample cannot be read');
  return { ready: preparePhoto(photo.value, args.value.options, nowMs), truth };
}

const alongOf = ({ alongAtLeftM, mmPerPx }: Strip, xPx: number) => alongAtLeftM + (xPx * mmPerPx) / 1000;
const acrossOf = ({ acrossAtTopM, mmPerPx }: Strip, yPx: number) => acrossAtTopM - (yPx * mmPerPx) / 1000;

describe('a quick number from the strip at half its size', () => {
  test('half the pixels show the same ground: a photo pixel keeps its place along and across', async () => {
    const { ready } = await prepared();
    const { strip } = ready;
    const half = halvedStrip(strip);
    expect([half.raster.widthPx, half.raster.heightPx]).toEqual([
      strip.raster.widthPx >> 1,
      strip.raster.heightPx >> 1,
    ]);
    for (const [x, y] of [
      [0, 0],
      [401.5, 220],
      [strip.raster.widthPx - 1, strip.raster.heightPx - 1],
    ] as const) {
      const photo = applyHomography(strip.stripToPhoto, [x, y]);
      const [hx, hy] = applyHomography(half.photoToStrip, photo);
      // The same ground by definition of the strip: to a nanometre, rounding alone.
      expect(alongOf(half, hx)).toBeCloseTo(alongOf(strip, x), 9);
      expect(acrossOf(half, hy)).toBeCloseTo(acrossOf(strip, y), 9);
      const [bx, by] = applyHomography(half.stripToPhoto, [hx, hy]);
      expect(bx).toBeCloseTo(photo[0], 6);
      expect(by).toBeCloseTo(photo[1], 6);
    }
  });

  test('the true number of the scene lies inside the interval that it gives', async () => {
    const { ready, truth } = await prepared();
    const { fromM, toM } = 'stretch' in ready.ground ? ready.ground.stretch : { fromM: 0, toM: 0 };
    // Source: the scene as it was rendered.
    const plants = truth.plants.filter((p) => p.kind === 'plant' && p.alongM >= fromM && p.alongM <= toM).length;
    expect(plants).toBeGreaterThan(5);
    const quick = quickLook(ready, nowMs);
    expect(quick?.count.low).toBeLessThanOrEqual(plants);
    expect(quick?.count.high).toBeGreaterThanOrEqual(plants);
    expect(quick?.detector.name).toBe('none');
  });

  test('a strip whose half would be coarser than was tried gives no quick number', async () => {
    const { ready } = await prepared();
    expect(quickLook({ ...ready, strip: { ...ready.strip, mmPerPx: 1.6 } }, nowMs)).toBeNull();
  });
});
