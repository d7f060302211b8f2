import * as tf from '@tensorflow/tfjs';
import { describe, expect, it } from 'vitest';
import { crossValidate } from '../../src/core/learning/crossValidate.ts';
import { type Example, MARK_LABELS } from '../../src/core/learning/example.ts';
import { headChances } from '../../src/core/learning/headChances.ts';
import { readHeads, writeHeads } from '../../src/core/learning/headsDocument.ts';
import { learn } from '../../src/core/learning/learn.ts';
import { stockChances } from '../../src/core/learning/stockChances.ts';
import { trainHead } from '../../src/worker/trainHead.ts';
import { ABOUT, drawnHead, weedyPhotos } from '../core/learning/marks.ts';

const train = (examples: readonly Example[], seed: number) => trainHead(examples, seed, ABOUT);
const learnFrom = (examples: readonly Example[]) =>
  learn({ examples, photos: new Set(examples.map((e) => e.photo)).size, leftOut: [] }, train, 3);

describe('a head without the learning library', () => {
  it('answers as the same layers built in TensorFlow.js', async () => {
    await tf.setBackend('cpu');
    const trained = await train(weedyPhotos(4, 15, 2, 1), 1);
    for (const head of [trained, drawnHead(1)]) {
      const units = head.hidden.bias.length;
      const model = tf.sequential({
        layers: [
          tf.layers.dense({ inputShape: [head.featureNames.length], units, activation: 'tanh' }),
          tf.layers.dense({ units: head.labels.length }),
        ],
      });
      model.setWeights([
        tf.tensor2d(head.hidden.weights),
        tf.tensor1d(head.hidden.bias),
        tf.tensor2d(head.output.weights),
        tf.tensor1d(head.output.bias),
      ]);
      for (const { features, stock } of weedyPhotos(2, 20, 1, 2)) {
        const scaled = tf.sub(tf.tensor2d([[...features]]), tf.tensor1d(head.mean)).div(tf.tensor1d(head.sd));
        const prior = tf.log(tf.tensor2d([[...stockChances(stock, head.labels)]]));
        const expected = tf.softmax((model.predict(scaled) as tf.Tensor).add(prior)).dataSync();
        const got = headChances(head, stock, features);
        // single precision against double
        MARK_LABELS.forEach((label, k) => {
          expect(Math.abs(got[label] - expected[k]!)).toBeLessThan(1e-5);
        });
      }
    }
  });
});

describe('training', () => {
  it('repeats exactly from its seed, whatever the order of the examples; another seed gives another head', async () => {
    const examples = weedyPhotos(4, 12, 2, 1);
    const first = await train(examples, 11);
    expect(await train(examples, 11)).toEqual(first);
    expect(await train([...examples].reverse(), 11)).toEqual(first);
    expect((await train(examples, 12)).id).not.toBe(first.id);
    expect(first).toMatchObject({ photos: 4, examples: 48, trainedAt: ABOUT.trainedAt, stock: ABOUT.stock });
  });

  it('gives a head that comes through JSON as it was', async () => {
    const head = await train(weedyPhotos(3, 12, 2, 1), 1);
    const document = writeHeads({ heads: [head], changes: [] });
    const read = readHeads(JSON.parse(JSON.stringify(document)));
    expect(read.ok && read.value.heads[0]).toEqual(head);
  });

  it('refuses no examples and features of another length', async () => {
    await expect(train([], 1)).rejects.toThrow(/at least one example/);
    const [example] = weedyPhotos(1, 1, 0, 1);
    await expect(train([{ ...example!, features: [1] }], 1)).rejects.toThrow(/24 features, got 1/);
  });
});

describe('learning from corrections', () => {
  it('takes a head where two features tell the weed that the stock detector does not know', async () => {
    const { decision, head, photos } = await learnFrom(weedyPhotos(14, 15, 3, 4));
    expect(decision.verdict, decision.reason).toBe('adopt');
    expect(decision.after!).toBeLessThan(decision.before! / 2);
    expect(head?.photos).toBe(14);
    expect(photos).toHaveLength(14);
  });

  it.each([1, 2])('does not take a head trained on pure noise (draw %i)', async (draw) => {
    const { decision, head } = await learnFrom(weedyPhotos(14, 15, 0, 40 + draw));
    expect(decision.verdict, decision.reason).not.toBe('adopt');
    expect(head).toBeNull();
  });

  it('cannot tell from nothing, one kind of mark, or two photos', async () => {
    const plants = weedyPhotos(10, 5, 0, 1).map((e): Example => ({ ...e, label: 'plant' }));
    for (const examples of [[], plants, weedyPhotos(2, 15, 3, 1), weedyPhotos(1, 15, 3, 1)]) {
      const { decision, head } = await learnFrom(examples);
      expect(decision.verdict).toBe('cannot tell');
      expect(decision.reason).toMatch(/^cannot tell, because /);
      expect(head).toBeNull();
    }
  });

  it('judges every photo by a head that did not see it', async () => {
    const examples = weedyPhotos(7, 6, 1, 1);
    const trainedOn: string[][] = [];
    const spy = async (some: readonly Example[]) => {
      trainedOn.push([...new Set(some.map((e) => e.photo))]);
      return drawnHead(0);
    };
    const { photos, folds, checked } = await crossValidate(examples, spy, 1);
    expect([checked, folds, trainedOn.length]).toEqual([7, 5, 5]);
    // with all weights zero every answer is the stock detector's
    for (const { before, after } of photos) expect(after).toBe(before);
    for (const { photo } of photos) expect(trainedOn.filter((names) => !names.includes(photo))).toHaveLength(1);
  });
});
