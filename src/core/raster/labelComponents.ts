import type { Field, Mask } from './raster.ts';

export interface Components {
  /** 0 outside, 1 to `count` inside, numbered in the order of their first pixel. */
  readonly labels: Field<Int32Array>;
  readonly count: number;
  /** Pixels of each component; index 0 is unused. */
  readonly areasPx: Int32Array;
}

/** Eight-connected components of a mask, by one pass with union-find (Wu, Otoo & Suzuki 2009) and one pass to number. */
export function labelComponents(mask: Mask): Components {
  const { widthPx: w, heightPx: h, data } = mask;
  const labels = new Int32Array(w * h);
  const parent: number[] = [0];
  const find = (a: number): number => {
    let root = a;
    while (parent[root] !== root) root = parent[root]!;
    let at = a;
    while (parent[at] !== root) {
      const next = parent[at]!;
      parent[at] = root;
      at = next;
    }
    return root;
  };
  const join = (a: number, b: number): number => {
    const ra = find(a);
    const rb = find(b);
    if (ra === rb) return ra;
    const low = Math.min(ra, rb);
    parent[Math.max(ra, rb)] = low;
    return low;
  };

  // indexOf leaps over what is empty, which is nearly all of a picture of soil
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i + 1)) {
    const x = i % w;
    const y = (i - x) / w;
    const west = x > 0 ? labels[i - 1]! : 0;
    const north = y > 0 ? labels[i - w]! : 0;
    const northWest = x > 0 && y > 0 ? labels[i - w - 1]! : 0;
    const northEast = x + 1 < w && y > 0 ? labels[i - w + 1]! : 0;
    let label = north || northWest || west;
    if (label !== 0 && northEast !== 0 && north === 0) label = join(label, northEast);
    else if (label === 0) label = northEast;
    if (label === 0) {
      label = parent.length;
      parent.push(label);
    }
    labels[i] = label;
  }

  const number = new Int32Array(parent.length);
  let count = 0;
  const areasPx: number[] = [0];
  for (let i = data.indexOf(1); i >= 0; i = data.indexOf(1, i + 1)) {
    const root = find(labels[i]!);
    if (number[root] === 0) {
      number[root] = ++count;
      areasPx.push(0);
    }
    labels[i] = number[root]!;
    areasPx[number[root]!]!++;
  }
  return { labels: { widthPx: w, heightPx: h, data: labels }, count, areasPx: Int32Array.from(areasPx) };
}
