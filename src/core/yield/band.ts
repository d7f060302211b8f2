/** Two numbers that hold the truth between them, with no claim about where; `low` never exceeds `high`. */
export interface Band {
  readonly low: number;
  readonly high: number;
}

export function middle(band: Band): number {
  return (band.low + band.high) / 2;
}

export function timesBand(a: Band, b: Band): Band {
  return { low: a.low * b.low, high: a.high * b.high };
}
