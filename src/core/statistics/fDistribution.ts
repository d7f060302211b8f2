import { incompleteBeta } from './incompleteBeta.ts';

/** Chance that F with df1 and df2 degrees of freedom is f or more. */
export function fUpper(f: number, df1: number, df2: number): number {
  if (!(df1 > 0) || !(df2 > 0)) throw new RangeError(`degrees of freedom are above 0, got ${df1} and ${df2}`);
  if (f <= 0) return 1;
  const scaled = df1 * f;
  return incompleteBeta(df2 / (df2 + scaled), df2 / 2, df1 / 2, scaled / (df2 + scaled));
}
