import { createHash } from 'node:crypto';
import { readFileSync, statSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { onnxRunner, startOnnx } from '../../src/node/onnxRunner.ts';

const bytes = readFileSync('models/seedlings.onnx');
const card = JSON.parse(readFileSync('models/seedlings.json', 'utf8')) as { sha256: string };
/** Outputs of the same weights in PyTorch 1.13 on an input given by a formula; made by scripts/train/reference.py. */
const reference = JSON.parse(readFileSync('tests/reference/seedlings-network.json', 'utf8')) as {
  dims: [number, number, number, number];
  cells: [number, number, number, number][];
  mean: number[];
};

describe('onnxRunner with the shipped network', () => {
  it('is the file that the card describes, and small', () => {
    expect(createHash('sha256').update(bytes).digest('hex')).toBe(card.sha256);
    expect(statSync('models/seedlings.onnx').size).toBeLessThan(3_000_000);
  });

  it('answers what PyTorch answers', async () => {
    const [, channels, h, w] = reference.dims;
    const data = new Float32Array(channels * h * w);
    for (let c = 0; c < channels; c++) {
      for (let y = 0; y < h; y++) {
        for (let x = 0; x < w; x++) {
          data[(c * h + y) * w + x] =
            Math.sin(0.7 * c + 0.13 * x + 0.21 * y) + 0.5 * Math.cos(0.05 * x * (c + 1) - 0.09 * y);
        }
      }
    }
    const run = await onnxRunner(bytes, { threads: 1 });
    const maps = await run({ data, dims: reference.dims });
    expect(maps.dims).toEqual([1, 11, h / 4, w / 4]);
    const plane = (h * w) / 16;
    // float32 sums in another order: well under a thousandth
    for (const [c, y, x, value] of reference.cells)
      expect(maps.data[c * plane + (y * w) / 4 + x]).toBeCloseTo(value, 3);
    reference.mean.forEach((mean, c) => {
      const part = maps.data.subarray(c * plane, (c + 1) * plane);
      expect(part.reduce((a, b) => a + b) / plane).toBeCloseTo(mean, 3);
    });
  }, 60_000);

  it('refuses bytes that are no network, in plain words, and opens the next that are', async () => {
    const open = await startOnnx({ threads: 1 });
    await expect(open(new Uint8Array([1, 2, 3]))).rejects.toThrow(
      /plant network could not be opened: .*; check that the model file is whole/,
    );
    const maps = await (await open(bytes))({ data: new Float32Array(6 * 64 * 128), dims: [1, 6, 64, 128] });
    expect(maps.dims).toEqual([1, 11, 16, 32]);
  }, 60_000);
});
