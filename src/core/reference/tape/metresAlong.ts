import type { Ribbon } from '../line/ribbon.ts';
import { localShift } from './localShift.ts';
import type { GraduationReading } from './readGraduations.ts';

/** What a read tape says at `s` along its ribbon: metres from a zero of its own, growing along s. */
export function metresAlong(ribbon: Ribbon, { fit, periodM }: GraduationReading, s: number): number {
  const u = (2 * s - ribbon.toS - ribbon.fromS) / (ribbon.toS - ribbon.fromS);
  return ((fit.perT * u) / (1 + fit.c * u) + localShift(fit, u)) * periodM;
}
