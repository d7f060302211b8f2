/** A range that holds the truth in a stated share of cases, and how it was made. */
export interface Interval {
  readonly low: number;
  readonly high: number;
  /** Share of cases in which the range is to hold the truth: 0.9 for 90 %. */
  readonly level: number;
  readonly method: string;
}

/** Throws RangeError unless the level is a share between 0 and 1, both excluded. */
export function checkLevel(level: number): number {
  if (!(level > 0 && level < 1)) throw new RangeError(`a level lies between 0 and 1, got ${level}`);
  return level;
}
