import { narrowingSd } from '../line/narrowingSd.ts';
import { type Ribbon, ribbonWidth } from '../line/ribbon.ts';
import type { TracedRibbon } from '../line/traceRibbon.ts';
import type { FoundLine } from '../reference.ts';
import { placeAlong } from './liesOn.ts';

/** Places at which the width is taken. */
const PLACES = 9;

/** The widths of a strip between the first and the last mark on it, and the doubt of how it narrows there. */
export function widthsBetween(
  { readings }: Pick<FoundLine, 'readings'>,
  ribbon: Ribbon,
  traced: Pick<TracedRibbon, 'taperSdPx'>,
): Required<Pick<FoundLine, 'widths' | 'narrowingSd'>> {
  const [first, last] = [readings[0]!, readings[readings.length - 1]!];
  const [a, b] = [placeAlong(ribbon, [first.xPx, first.yPx]), placeAlong(ribbon, [last.xPx, last.yPx])];
  // readings between are needed roughly only: as the strip's own taper crowds them
  const vanish = (ribbonWidth(ribbon, b) - ribbonWidth(ribbon, a)) / (ribbonWidth(ribbon, b) + ribbonWidth(ribbon, a));
  const widths = Array.from({ length: PLACES }, (_, i) => {
    const part = i / (PLACES - 1);
    const u = 2 * part - 1;
    const share = (u / (1 + vanish * u) + 1 / (1 - vanish)) / (1 / (1 + vanish) + 1 / (1 - vanish));
    return {
      readingM: first.readingM + share * (last.readingM - first.readingM),
      widthPx: ribbonWidth(ribbon, a + part * (b - a)),
    };
  });
  const part = Math.abs(b - a) / (ribbon.toS - ribbon.fromS);
  return { widths, narrowingSd: part * narrowingSd(traced, ribbonWidth(ribbon, (a + b) / 2)) };
}
