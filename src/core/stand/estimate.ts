import type { Interval } from '../statistics/interval.ts';

/** A number with its doubt. `interval` is null where nothing can be said of it, and `reasons` then says why. */
export interface Estimate {
  readonly value: number;
  /** What the value and the interval are counted in, e.g. "plants/m2". */
  readonly unit: string;
  /** How many observations it rests on. */
  readonly n: number;
  readonly interval: Interval | null;
  readonly method: string;
  readonly reasons: readonly string[];
}
