import type { Raster } from '../../raster/raster.ts';
import { ribbonOutline } from '../line/ribbon.ts';
import type { FoundLine } from '../reference.ts';
import { rodCandidates } from '../rod/rodCandidates.ts';
import { liesOn } from './liesOn.ts';
import { markedBands } from './markedBands.ts';
import { widthsBetween } from './widthsBetween.ts';

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
  return {
    ...line,
    on: rod.bands === null ? 'strip' : 'rod',
    ...widthsBetween(line, ribbon, rod.traced),
    coveredPx: [ribbonOutline(ribbon, 1 + 2 * rod.traced.edgeSpreadPx)],
  };
}
