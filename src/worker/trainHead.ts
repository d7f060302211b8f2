import { type Example, MARK_LABELS } from '../core/learning/example.ts';
import { FEATURE_NAMES } from '../core/learning/featureNames.ts';
import type { Head } from '../core/learning/head.ts';
import { headId } from '../core/learning/headId.ts';
import { stockChances } from '../core/learning/stockChances.ts';
import { drawNormal } from '../core/statistics/draw.ts';
import { type Random, seededRandom } from '../core/statistics/seededRandom.ts';

const HIDDEN = 16;
const STEPS = 60;
const RATE = 0.05;
/** At most so many examples a step: time hardly grows with their number. */
const BATCH = 96;
/** Weight of the squared weights against the whole set's loss: a few examples move the stock detector little. */
const DECAY = 6;
/** A feature that hardly varies in the examples is not blown up. */
const LEAST_SD = 1e-3;
/** Digits kept of a weight: single precision has seven. */
const DIGITS = 8;

/** What a head is to say of itself. */
export interface HeadAbout {
  /** ISO 8601 with offset. */
  readonly trainedAt: string;
  readonly stock: { readonly name: string; readonly version: string };
}

/**
 * Trains a head on corrected marks: Adam (Kingma & Ba 2015, ICLR) on the cross-entropy of the stock
 * detector's log chances plus the network's outputs, with squared weights as penalty. The learning library is loaded
 * at the first call; its CPU engine runs in a page's worker and in Node alike. The same examples, in any order, and the
 * same seed give the same head. Rejects with RangeError without examples or with features of another length.
 */
export async function trainHead(examples: readonly Example[], seed: number, about: HeadAbout): Promise<Head> {
  if (examples.length === 0) throw new RangeError('a head needs at least one example');
  const odd = examples.find((e) => e.features.length !== FEATURE_NAMES.length);
  if (odd !== undefined) {
    throw new RangeError(`a mark has ${FEATURE_NAMES.length} features, got ${odd.features.length} in ${odd.photo}`);
  }
  const sorted = [...examples].sort((a, b) => order(a.photo, b.photo) || order(a.markId, b.markId));
  const mean = FEATURE_NAMES.map((_, k) => exactly(average(sorted.map((e) => e.features[k]!))));
  const sd = FEATURE_NAMES.map((_, k) =>
    exactly(Math.max(LEAST_SD, Math.sqrt(average(sorted.map((e) => (e.features[k]! - mean[k]!) ** 2))))),
  );
  const scaled = sorted.map((e) => e.features.map((value, k) => (value - mean[k]!) / sd[k]!));
  const trained = await trainLayers(sorted, scaled, seed);
  const photos = new Set(sorted.map((e) => e.photo)).size;
  const unnamed: Omit<Head, 'id'> = {
    schema: 'rowledger/head@1',
    trainedAt: about.trainedAt,
    seed,
    photos,
    examples: sorted.length,
    stock: { ...about.stock },
    featureNames: [...FEATURE_NAMES],
    labels: [...MARK_LABELS],
    mean,
    sd,
    ...trained,
  };
  return { ...unnamed, id: headId(unnamed) };
}

async function trainLayers(
  examples: readonly Example[],
  scaled: readonly (readonly number[])[],
  seed: number,
): Promise<Pick<Head, 'hidden' | 'output'>> {
  const tf = await library();
  const random = seededRandom(seed);
  const start = (rows: number, columns: number, sd: number): number[][] =>
    Array.from({ length: rows }, () => Array.from({ length: columns }, () => sd * drawNormal(random)));
  const w1 = tf.variable(tf.tensor2d(start(FEATURE_NAMES.length, HIDDEN, 1 / Math.sqrt(FEATURE_NAMES.length))));
  const b1 = tf.variable(tf.zeros([HIDDEN]));
  // A head starts as the stock detector.
  const w2 = tf.variable(tf.zeros([HIDDEN, MARK_LABELS.length]));
  const b2 = tf.variable(tf.zeros([MARK_LABELS.length]));
  const optimizer = tf.train.adam(RATE);
  const batches = shuffledParts(examples.length, random).map((rows) => ({
    x: tf.tensor2d(rows.map((k) => [...scaled[k]!])),
    prior: tf.tensor2d(rows.map((k) => stockChances(examples[k]!.stock, MARK_LABELS).map(Math.log))),
    truth: tf.tensor2d(rows.map((k) => MARK_LABELS.map((label) => (label === examples[k]!.label ? 1 : 0)))),
  }));
  for (let step = 0; step < STEPS; step++) {
    const { x, prior, truth } = batches[step % batches.length]!;
    optimizer.minimize(
      () => {
        const hidden = x.matMul(w1).add(b1).tanh();
        const logChances = tf.logSoftmax(hidden.matMul(w2).add(b2).add(prior));
        const size = w1.square().sum().add(w2.square().sum()).add(b2.square().sum());
        const loss = truth.mul(logChances).sum().neg().div(x.shape[0]);
        return loss.add(size.mul(DECAY / examples.length)).asScalar();
      },
      false,
      [w1, b1, w2, b2],
    );
  }
  const rows = (values: Iterable<number>, columns: number): number[][] => {
    const all = [...values].map(exactly);
    return Array.from({ length: all.length / columns }, (_, r) => all.slice(r * columns, (r + 1) * columns));
  };
  const result = {
    hidden: { weights: rows(w1.dataSync(), HIDDEN), bias: [...b1.dataSync()].map(exactly) },
    output: { weights: rows(w2.dataSync(), MARK_LABELS.length), bias: [...b2.dataSync()].map(exactly) },
  };
  optimizer.dispose();
  tf.dispose([w1, b1, w2, b2, ...batches.flatMap(({ x, prior, truth }) => [x, prior, truth])]);
  return result;
}

/** Places 0 to n - 1, shuffled (Fisher-Yates) and cut into parts of nearly equal size. */
function shuffledParts(n: number, random: Random): readonly (readonly number[])[] {
  const places = Array.from({ length: n }, (_, k) => k);
  for (let i = n - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [places[i], places[j]] = [places[j]!, places[i]!];
  }
  const parts = Math.ceil(n / BATCH);
  return Array.from({ length: parts }, (_, part) => places.filter((_, k) => k % parts === part));
}

type Library = typeof import('@tensorflow/tfjs');

let loaded: Promise<Library> | null = null;

/** The learning library with its CPU engine; in Node its exports hang on `default`. */
function library(): Promise<Library> {
  loaded ??= import('@tensorflow/tfjs').then(async (module) => {
    const tf = 'tensor2d' in module ? module : (module as { readonly default: Library }).default;
    await tf.setBackend('cpu');
    return tf;
  });
  return loaded;
}

function average(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

function exactly(value: number): number {
  return Number(value.toPrecision(DIGITS));
}

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
