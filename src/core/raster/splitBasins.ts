import { longer } from './longer.ts';
import type { Field, Mask } from './raster.ts';

export interface Basins {
  /** 0 outside, 1 to `count` inside. */
  readonly labels: Field<Int32Array>;
  readonly count: number;
  /** Height of each basin's summit, in the units of the field; index 0 is unused. */
  readonly summits: Int32Array;
  /** Indices of the labelled pixels, in raster order. */
  readonly inside: Int32Array;
}

/**
 * Cuts a mask with its distance field into lobes: a watershed by immersion (Vincent & Soille 1991, IEEE PAMI
 * 13:583-598) from the highest value down, in which two lobes that meet stay apart only when the pass between them is
 * lower than `passShare` of the lower summit. That makes the rule free of scale: a waist counts, a ripple does not.
 *
 * @param mask where the distance is above 0.
 */
export function splitBasins(mask: Mask, distance: Field<Int32Array>, passShare: number): Basins {
  const { widthPx: w, heightPx: h, data } = distance;
  const inside = pixelsOf(mask);
  const order = byFallingValue(data, inside);
  const labels = new Int32Array(w * h);
  const parent: number[] = [0];
  const summit: number[] = [0];
  const find = (a: number): number => {
    let root = a;
    while (parent[root] !== root) root = parent[root]!;
    parent[a] = root;
    return root;
  };

  // the eight around, row by row
  const around = Int32Array.of(-w - 1, -w, -w + 1, -1, 1, w - 1, w, w + 1);
  const open = new Int32Array(8);
  for (let n = 0; n < order.length; n++) {
    const i = order[n]!;
    const x = i % w;
    let steps = around;
    let count = 8;
    if (x === 0 || x + 1 === w || i < w || i + w >= data.length) {
      steps = open;
      count = 0;
      for (const [k, step] of around.entries()) {
        const u = x + ACROSS[k]!;
        if (u >= 0 && u < w && i + step >= 0 && i + step < data.length) open[count++] = step;
      }
    }
    let best = 0;
    let before = 0;
    for (let k = 0; k < count; k++) {
      const label = labels[i + steps[k]!]!;
      // the same label twice running says nothing new
      if (label === 0 || label === before) continue;
      before = label;
      const root = find(label);
      if (best === 0 || root === best) {
        best = root;
        continue;
      }
      const low = summit[root]! <= summit[best]! ? root : best;
      const high = low === root ? best : root;
      // a summit two thirds of a pixel above the pass is the raster's own ripple
      if (data[i]! >= passShare * summit[low]! || summit[low]! - data[i]! < 3) parent[low] = high;
      best = high;
    }
    if (best === 0) {
      best = parent.length;
      parent.push(best);
      summit.push(data[i]!);
    }
    labels[i] = best;
  }

  const number = new Int32Array(parent.length);
  const summits: number[] = [0];
  for (const i of inside) {
    const root = find(labels[i]!);
    if (number[root] === 0) {
      number[root] = summits.length;
      summits.push(summit[root]!);
    }
    labels[i] = number[root]!;
  }
  return {
    labels: { widthPx: w, heightPx: h, data: labels },
    count: summits.length - 1,
    summits: Int32Array.from(summits),
    inside,
  };
}

/** Indices of the set pixels, in raster order. */
function pixelsOf({ data }: Mask): Int32Array {
  let out = new Int32Array(1 << 14);
  let n = 0;
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i)) {
    for (; data[i] === 1; i++) {
      if (n === out.length) out = longer(out);
      out[n++] = i;
    }
  }
  return out.subarray(0, n);
}

/** Columns to the eight around. */
const ACROSS = [-1, 0, 1, -1, 1, -1, 0, 1] as const;

/** Indices, highest value first, ties in the order given (counting sort). */
function byFallingValue(data: Int32Array, indices: Int32Array): Int32Array {
  let top = 0;
  for (const i of indices) if (data[i]! > top) top = data[i]!;
  const start = new Int32Array(top + 2);
  for (const i of indices) start[top - data[i]! + 1]!++;
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const order = new Int32Array(indices.length);
  for (const i of indices) order[start[top - data[i]!]!++] = i;
  return order;
}
