import { describe, expect, it } from 'vitest';
import { stripToTensor } from '../../../src/core/detector/stripToTensor.ts';
import type { CameraStand } from '../../../src/core/geometry/cameraStand.ts';
import { makeRaster } from '../../../src/core/raster/raster.ts';
import type { Strip } from '../../../src/core/straighten/strip.ts';

const card = { inputMmPerPx: 2, mmPerPx: 2, sideMultiple: 32 };
const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;

function grey(widthPx: number, heightPx: number, mmPerPx: number, camera: CameraStand | null = null): Strip {
  const raster = makeRaster(widthPx, heightPx);
  raster.data.fill(255);
  for (let i = 0; i < widthPx * heightPx; i++) for (let c = 0; c < 3; c++) raster.data[4 * i + c] = 51;
  const place = { mmPerPx, alongAtLeftM: 0, acrossAtTopM: 0.1, worstPhotoPxPerStripPx: 1 };
  return { raster, ...place, photoToStrip: identity, stripToPhoto: identity, camera };
}

describe('stripToTensor', () => {
  it('brings the strip to the scale of the network and pads it to the multiple', () => {
    const { tensor, widthPx, heightPx, scale } = stripToTensor(grey(100, 50, 1), card);
    expect(tensor.dims).toEqual([1, 6, 32, 64]);
    expect([widthPx, heightPx, scale]).toEqual([50, 25, 2]);
    const valid = tensor.data.subarray(5 * 32 * 64);
    expect(valid.reduce((a, b) => a + b)).toBe(50 * 25);
    expect(tensor.data[0]).toBeCloseTo((0.2 - 0.45) * 4, 5);
    expect(tensor.data[63]).toBe(0);
  });

  it('shows a network more than the pixels of its answers, and gives places in those', () => {
    const { tensor, widthPx, heightPx, scale, shift } = stripToTensor(grey(100, 50, 0.5), { ...card, inputMmPerPx: 1 });
    expect(tensor.dims).toEqual([1, 6, 32, 64]);
    expect([widthPx, heightPx]).toEqual([50, 25]);
    // the first answer pixel covers the strip's first 4 x 4, whose middle is 1.5
    expect([scale, shift]).toEqual([4, 1.5]);
  });

  it('says nothing where the photo does not reach', () => {
    const strip = grey(32, 32, 2);
    for (let y = 0; y < 32; y++) for (let x = 16; x < 32; x++) strip.raster.data[4 * (y * 32 + x) + 3] = 0;
    const { tensor } = stripToTensor(strip, card);
    for (let c = 0; c < 6; c++) expect(tensor.data[c * 1024 + 20]).toBe(0);
    expect(tensor.data[5 * 1024 + 10]).toBe(1);
  });

  it('gives the view as (place - foot of the camera) / height, halved, down the strip positive', () => {
    const { tensor } = stripToTensor(grey(64, 32, 2, { alongM: 0, acrossM: 0.1, heightM: 1 }), card);
    const plane = 32 * 64;
    expect(tensor.data[3 * plane + 50]).toBeCloseTo(0.5 * 0.1, 5);
    expect(tensor.data[4 * plane + 25 * 64]).toBeCloseTo(0.5 * 0.05, 5);
    expect(stripToTensor(grey(64, 32, 2), card).tensor.data[3 * plane + 50]).toBe(0);
  });

  it('keeps the mean of a picture it shrinks or grows', () => {
    const strip = grey(60, 40, 1.4);
    for (let i = 0; i < 60 * 40; i++) strip.raster.data[4 * i] = (i * 37) % 256;
    const { tensor, widthPx, heightPx } = stripToTensor(strip, card);
    const w = tensor.dims[3]!;
    let sum = 0;
    for (let y = 0; y < heightPx; y++) for (let x = 0; x < widthPx; x++) sum += tensor.data[y * w + x]! / 4 + 0.45;
    // the values of 0..255 that i * 37 runs through have mean 127.4 / 255 = 0.4996; edges weigh a little differently
    expect(sum / (widthPx * heightPx)).toBeCloseTo(0.4996, 1.7);
  });
});
