import type { Raster } from '../../raster/raster.ts';
import { ribbonOutline, ribbonWidth } from '../line/ribbon.ts';
import type { FoundLine } from '../reference.ts';
import { rodCandidates } from '../rod/rodCandidates.ts';
import { liesOn, placeAlong } from './liesOn.ts';
import { markedBands } from './markedBands.ts';

/** Places at which the thickness is taken. */
const PLACES = 9;

/**
 * The straight strip of one or two colours that hand marks lie on, if any: its thickness lifts them off the soil, its
 * narrowing tells the foreshortening where only two were set. Bands tell a rod, and are read where marks lie at their
 * borders; without them it may as well be flat, and one on which a tape's print was faintly read stays that tape.
 */
export function markedRod(photo: Raster, line: FoundLine, faintTape: FoundLine | null): FoundLine | null {
  const rod = rodCandidates(photo, line.endsPx).find(({ extent }) => liesOn(line, extent.ribbon));
  if (rod === undefined || (rod.bands === null && faintTape !== null)) return faintTape;
  const { ribbon } = rod.extent;
  const banded = rod.bands === null ? null : markedBands(line, rod.extent, rod.traced, rod.bands);
  if (banded !== null) return banded;
  const [first, last] = [line.readings[0]!, line.readings[line.readings.length - 1]!];
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
  return {
    ...line,
    on: rod.bands === null ? 'strip' : 'rod',
    widths,
    coveredPx: [ribbonOutline(ribbon, 1 + 2 * rod.traced.edgeSpreadPx)],
  };
}
