import { describe, expect, it } from 'vitest';
import { DEFAULT_COUNT_OPTIONS } from '../../../src/core/count/countOptions.ts';
import { countPhoto } from '../../../src/core/count/countPhoto.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { findPlantsByColour } from '../../../src/core/plants/findPlantsByColour.ts';
import { makeRaster, type Raster } from '../../../src/core/raster/raster.ts';
import { decodePhoto } from '../../../src/node/readPhoto.ts';
import { drawnRow } from '../../support/drawnRow.ts';

const PLACES_MM = [210, 340, 480, 590, 760, 1010, 1130, 1290, 1440];
const row = await drawnRow(PLACES_MM, 1700, 1);
const decoded = await decodePhoto(row.png, 'row.png');
if (!decoded.ok) throw new Error(decoded.found);
const upright = decoded.value.raster;

type Place = (x: number, y: number) => readonly [number, number];

/** Rearranges pixels: `from` gives the source of each new pixel, `to` the new place of each old one. */
function rearranged(widthPx: number, heightPx: number, from: Place): Raster {
  const out = makeRaster(widthPx, heightPx);
  const data = out.data as Uint8Array;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const [sx, sy] = from(x, y);
      const i = (sy * upright.widthPx + sx) * 4;
      data.set(upright.data.subarray(i, i + 4), (y * widthPx + x) * 4);
    }
  }
  return out;
}

const [w, h] = [upright.widthPx, upright.heightPx];
const TURNS: Record<string, { raster: Raster; to: Place }> = {
  'as taken': { raster: upright, to: (x, y) => [x, y] },
  'a quarter turn': { raster: rearranged(h, w, (x, y) => [y, h - 1 - x]), to: (x, y) => [h - 1 - y, x] },
  'a half turn': { raster: rearranged(w, h, (x, y) => [w - 1 - x, h - 1 - y]), to: (x, y) => [w - 1 - x, h - 1 - y] },
  'three quarters': { raster: rearranged(h, w, (x, y) => [w - 1 - y, x]), to: (x, y) => [y, w - 1 - x] },
  mirrored: { raster: rearranged(w, h, (x, y) => [w - 1 - x, y]), to: (x, y) => [w - 1 - x, y] },
};

async function counted({ raster, to }: { raster: Raster; to: Place }): Promise<CountResult> {
  const marks = [0, 0.5, 1, 1.4].map((m) => {
    const [xPx, yPx] = to(150 + m * 1000, h / 2 - 60);
    return { xPx, yPx, readingM: m };
  });
  const photo = { ...decodedPhoto(), widthPx: raster.widthPx, heightPx: raster.heightPx, raster };
  const { result } = await countPhoto(
    photo,
    { ...DEFAULT_COUNT_OPTIONS, reference: { kind: 'marks', marks } },
    { detector: { name: 'none', version: '1' }, findPlants: findPlantsByColour, nowMs: () => 0 },
  );
  return result;
}

function decodedPhoto() {
  if (!decoded.ok) throw new Error(decoded.found);
  return decoded.value;
}

/** Stem places may move by a strip pixel or two when the same scene is resampled another way round. */
const RESAMPLING_M = 0.006;

describe('a photo turned or mirrored with its marks', () => {
  const base = counted(TURNS['as taken']!);
  it.each(Object.keys(TURNS))('%s gives the same ground places and spacing', async (name) => {
    const turned = await counted(TURNS[name]!);
    const straight = await base;
    const places = (r: CountResult) =>
      r.plants.filter((p) => p.kind === 'plant' && p.inStretch).map((p) => p.alongM as number);
    expect(places(turned).length).toBe(PLACES_MM.length);
    places(straight).forEach((alongM, i) => {
      expect(Math.abs(places(turned)[i]! - alongM)).toBeLessThan(RESAMPLING_M);
    });
    expect(Math.abs(turned.spacing!.meanM! - straight.spacing!.meanM!)).toBeLessThan(RESAMPLING_M / 4);
  });

  it('mirroring alone changes the side of the reference', async () => {
    const side = (r: CountResult) => Math.sign(r.plants.reduce((sum, p) => sum + (p.acrossM ?? 0), 0));
    expect(side(await counted(TURNS.mirrored!))).toBe(-side(await base));
    expect(side(await counted(TURNS['a half turn']!))).toBe(side(await base));
  });
});
