import type { FollowedPrint } from './followPrint.ts';

/** Whether a print is followed so evenly along most of it that its phases can be trusted. */
export function isEven({ agreeing, spread }: Pick<FollowedPrint, 'agreeing' | 'spread'>): boolean {
  return agreeing >= 0.55 && spread < 0.1;
}
