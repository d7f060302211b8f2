import type { MarkCall, MarkLabel } from './example.ts';
import type { Head } from './head.ts';
import { stockChances } from './stockChances.ts';

/**
 * What a head thinks a mark is: chances by label, summing to 1.
 * Throws RangeError when there are not as many features as the head was trained with.
 */
export function headChances(head: Head, stock: MarkCall, features: readonly number[]): Record<MarkLabel, number> {
  if (features.length !== head.featureNames.length) {
    throw new RangeError(`the head reads ${head.featureNames.length} features, got ${features.length}`);
  }
  const scaled = features.map((value, k) => (value - head.mean[k]!) / head.sd[k]!);
  const hidden = through(head.hidden, scaled).map(Math.tanh);
  const shift = through(head.output, hidden);
  const scores = stockChances(stock, head.labels).map((chance, k) => Math.log(chance) + shift[k]!);
  const top = Math.max(...scores);
  const powers = scores.map((score) => Math.exp(score - top));
  const sum = powers.reduce((a, b) => a + b, 0);
  const chances: Record<MarkLabel, number> = { plant: 0, weed: 0, double: 0, 'not a plant': 0 };
  head.labels.forEach((label, k) => {
    chances[label] = powers[k]! / sum;
  });
  return chances;
}

function through({ weights, bias }: Head['hidden'], input: readonly number[]): number[] {
  const out = [...bias];
  for (let i = 0; i < input.length; i++) {
    const row = weights[i]!;
    for (let k = 0; k < out.length; k++) out[k]! += input[i]! * row[k]!;
  }
  return out;
}
