import * as z from 'zod/mini';
import { MARK_LABELS } from './example.ts';

const numbers = z.array(z.number());

const layer = z.strictObject({
  /** One row for each input, one column for each output. */
  weights: z.array(numbers).check(z.minLength(1)),
  bias: numbers.check(z.minLength(1)),
});

/** How a head is written down. */
export const headSchema = z
  .strictObject({
    schema: z.literal('rowledger/head@1'),
    /** Day of training and a checksum: two heads that differ have different names. */
    id: z.string().check(z.minLength(1), z.maxLength(120)),
    trainedAt: z.iso.datetime({ offset: true }),
    seed: z.int(),
    photos: z.int().check(z.minimum(0)),
    examples: z.int().check(z.minimum(0)),
    /** The detector whose marks it was trained on: it says nothing about those of another. */
    stock: z.strictObject({ name: z.string(), version: z.string() }),
    featureNames: z.array(z.string()).check(z.minLength(1)),
    labels: z.array(z.enum(MARK_LABELS)).check(z.minLength(MARK_LABELS.length), z.maxLength(MARK_LABELS.length)),
    /** Taken off each feature, then divided by, before the first layer. */
    mean: numbers,
    sd: z.array(z.number().check(z.gt(0))),
    hidden: layer,
    output: layer,
  })
  .check(z.refine(fits, 'the sizes of the layers do not fit each other'));

/**
 * A learned correction of the stock detector, as plain JSON: a network of one hidden layer (tanh) whose outputs are
 * added to the logarithms of the stock detector's own chances. All weights zero is the stock detector.
 */
export type Head = z.infer<typeof headSchema>;

interface Sizes {
  readonly featureNames: readonly string[];
  readonly labels: readonly string[];
  readonly mean: readonly number[];
  readonly sd: readonly number[];
  readonly hidden: { readonly weights: readonly (readonly number[])[]; readonly bias: readonly number[] };
  readonly output: { readonly weights: readonly (readonly number[])[]; readonly bias: readonly number[] };
}

function fits({ featureNames, labels, mean, sd, hidden, output }: Sizes): boolean {
  const n = featureNames.length;
  return (
    mean.length === n &&
    sd.length === n &&
    hidden.weights.length === n &&
    hidden.weights.every((row) => row.length === hidden.bias.length) &&
    output.weights.length === hidden.bias.length &&
    output.weights.every((row) => row.length === labels.length) &&
    output.bias.length === labels.length &&
    new Set(labels).size === labels.length
  );
}
