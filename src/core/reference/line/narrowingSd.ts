import type { TracedRibbon } from './traceRibbon.ts';

/**
 * Doubt (1 sd) of how a ribbon narrows from end to end: of (last - first) / (last + first) of its widths. Half more than
 * its edges' scatter says, since soil over an edge reaches along it: of 47 tapes and rods 68 % then lie within one, 89 %
 * within two.
 */
export function narrowingSd({ taperSdPx }: Pick<TracedRibbon, 'taperSdPx'>, widthPx: number): number {
  return (1.5 * taperSdPx) / widthPx;
}
