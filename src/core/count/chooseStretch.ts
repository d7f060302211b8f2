import type { FoundReference, Warning } from '../reference/reference.ts';

export interface StretchChoice {
  readonly fromM: number;
  readonly toM: number;
  readonly warnings: readonly Warning[];
}

/**
 * The stretch of row to count: what the person asked for, else the reference from end to end. A wish that reaches
 * beyond the reference is cut to it, and said: a count over row that no reading covers would not be a measured count.
 */
export function chooseStretch(found: FoundReference, wish: { fromM: number; toM: number } | null): StretchChoice {
  const low = Math.min(...found.endsM);
  const high = Math.max(...found.endsM);
  if (wish === null) return { fromM: low, toM: high, warnings: [] };
  const fromM = Math.max(low, Math.min(wish.fromM, wish.toM));
  const toM = Math.min(high, Math.max(wish.fromM, wish.toM));
  if (!(toM - fromM > 0.05)) {
    return {
      fromM: low,
      toM: high,
      warnings: [
        {
          code: 'stretch-outside',
          message: `The stretch asked for (${wish.fromM.toFixed(2)} to ${wish.toM.toFixed(2)} m) is not in the photo: counted ${low.toFixed(2)} to ${high.toFixed(2)} m instead.`,
        },
      ],
    };
  }
  const cut = fromM - Math.min(wish.fromM, wish.toM) > 0.01 || Math.max(wish.fromM, wish.toM) - toM > 0.01;
  return {
    fromM,
    toM,
    warnings: cut
      ? [
          {
            code: 'stretch-cut',
            message: `The photo shows readings ${low.toFixed(2)} to ${high.toFixed(2)} m only: counted ${fromM.toFixed(2)} to ${toM.toFixed(2)} m.`,
          },
        ]
      : [],
  };
}
