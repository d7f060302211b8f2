import type { Runs } from './runs.ts';

/** Eight-connected patches of a mask, numbered from 0 in the order of their first pixel. */
export interface Patches {
  readonly count: number;
  /** First run of each patch, and for each run the next one of its patch, -1 after the last. */
  readonly firstRun: Int32Array;
  readonly nextRun: Int32Array;
  readonly areaPx: Int32Array;
  /** Holes of each patch: regions beside it, joined by sides, that it shuts off from the border of the picture. */
  readonly holes: Int32Array;
  /** First and last column and row of each patch. */
  readonly left: Int32Array;
  readonly right: Int32Array;
  readonly top: Int32Array;
  readonly bottom: Int32Array;
}

/** Joins runs that touch by side or corner into patches: union-find over runs (Wu, Otoo & Suzuki 2009), not pixels. */
export function patchesOf({ rowStart, from, to }: Runs): Patches {
  const n = from.length;
  const parent = new Int32Array(n);
  // runs above that a run touches: what they are more than runs close rings (Euler's number)
  const touching = new Int32Array(n);
  for (let y = 0; y + 1 < rowStart.length; y++) {
    const end = rowStart[y + 1]!;
    let above = y > 0 ? rowStart[y - 1]! : 0;
    const lastAbove = y > 0 ? rowStart[y]! : 0;
    for (let i = rowStart[y]!; i < end; i++) {
      parent[i] = i;
      while (above < lastAbove && to[above]! < from[i]! - 1) above++;
      let k = above;
      while (k < lastAbove && from[k]! <= to[i]! + 1) join(parent, i, k++);
      touching[i] = k - above;
      // the last one may reach the next run of this row too
      above = k > above ? k - 1 : k;
    }
  }
  const ofRun = new Int32Array(n);
  let count = 0;
  // a root is the first run of its patch, and comes before the others
  for (let i = 0; i < n; i++) ofRun[i] = parent[i] === i ? count++ : ofRun[root(parent, i)]!;
  const areaPx = new Int32Array(count);
  const holes = new Int32Array(count).fill(1);
  const left = new Int32Array(count).fill(0x7fffffff);
  const right = new Int32Array(count).fill(-1);
  const top = new Int32Array(count).fill(-1);
  const bottom = new Int32Array(count);
  const firstRun = new Int32Array(count);
  const nextRun = new Int32Array(n).fill(-1);
  const last = new Int32Array(count).fill(-1);
  for (let y = 0; y + 1 < rowStart.length; y++) {
    for (let i = rowStart[y]!; i < rowStart[y + 1]!; i++) {
      const p = ofRun[i]!;
      holes[p]! += touching[i]! - 1;
      areaPx[p]! += to[i]! - from[i]! + 1;
      if (from[i]! < left[p]!) left[p] = from[i]!;
      if (to[i]! > right[p]!) right[p] = to[i]!;
      if (top[p]! < 0) top[p] = y;
      bottom[p] = y;
      if (last[p]! < 0) firstRun[p] = i;
      else nextRun[last[p]!] = i;
      last[p] = i;
    }
  }
  return { count, firstRun, nextRun, areaPx, holes, left, right, top, bottom };
}

function root(parent: Int32Array, i: number): number {
  let at = i;
  while (parent[at] !== at) at = parent[at]!;
  while (parent[i] !== at) {
    const next = parent[i]!;
    parent[i] = at;
    i = next;
  }
  return at;
}

function join(parent: Int32Array, a: number, b: number): void {
  const ra = root(parent, a);
  const rb = root(parent, b);
  if (ra < rb) parent[rb] = ra;
  else parent[ra] = rb;
}
