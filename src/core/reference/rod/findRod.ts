import type { Raster } from '../../raster/raster.ts';
import { lineOfLength } from '../line/lineOfLength.ts';
import type { FoundLine, NoReference } from '../reference.ts';
import { bandedLine } from './bandedLine.ts';
import { rodCandidates } from './rodCandidates.ts';

export type RodRequest =
  | { readonly kind: 'rod'; readonly lengthM: number }
  | { readonly kind: 'rod'; readonly bandM: number };

/**
 * Finds a straight rod: a ribbon of even taper, straight, in one colour or two taking turns. Plain rods need both ends in
 * the photo; banded ones are read from their borders, however many are hidden.
 */
export function findRod(photo: Raster, request: RodRequest): FoundLine | NoReference {
  const rods = rodCandidates(photo);
  if ('bandM' in request) {
    const banded = rods.filter((r) => r.bands !== null);
    const rod = banded[0];
    if (rod === undefined) {
      return none(
        'no banded rod found: at least three borders between bands of two colours must be in view; lay the rod uncovered, or mark two readings by hand',
      );
    }
    if (banded[1] !== undefined && banded[1].strength > 0.6 * rod.strength) return two();
    return bandedLine(rod.extent, rod.traced, rod.bands!, request.bandM, null);
  }
  const whole = rods.filter((r) => r.extent.endsSeen[0] && r.extent.endsSeen[1]);
  const rod = whole[0];
  if (rod === undefined) {
    return none(
      rods.length > 0
        ? `a straight strip is in the photo, but not both of its ends, so the length of ${request.lengthM.toFixed(2)} m gives no scale: take leaves and soil off both ends and show them, or mark two readings by hand`
        : 'no rod found: no straight strip of even width with two clear ends stands out from the soil; lay the rod uncovered beside the row',
    );
  }
  if (whole[1] !== undefined && whole[1].strength > 0.6 * rod.strength) return two();
  if (rod.bands !== null && rod.bands.borders.length >= 3) {
    return bandedLine(rod.extent, rod.traced, rod.bands, null, request.lengthM);
  }
  return lineOfLength('rod', rod, request.lengthM, []);
}

function two(): NoReference {
  return {
    kind: 'none',
    reason: 'two rods are in the photo: leave only one in view, or mark two readings by hand',
    warnings: [{ code: 'two-references', message: 'two straight rods were found' }],
  };
}

function none(reason: string): NoReference {
  return { kind: 'none', reason, warnings: [] };
}
