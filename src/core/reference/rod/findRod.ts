import type { Raster } from '../../raster/raster.ts';
import { findRibbons, sameRibbon } from '../line/findRibbons.ts';
import { lineOfLength } from '../line/lineOfLength.ts';
import { ribbonOffset, ribbonWidth } from '../line/ribbon.ts';
import { type TracedRibbon, traceRibbon } from '../line/traceRibbon.ts';
import type { FoundLine, NoReference } from '../reference.ts';
import { alongside } from './alongside.ts';
import { type BandBorder, bandBorders } from './bandBorders.ts';
import { bandedLine } from './bandedLine.ts';
import { type BandFit, fitBands } from './fitBands.ts';
import { type RodExtent, rodExtent } from './rodExtent.ts';

export type RodRequest =
  | { readonly kind: 'rod'; readonly lengthM: number }
  | { readonly kind: 'rod'; readonly bandM: number };

interface RodCandidate {
  readonly traced: TracedRibbon;
  readonly extent: RodExtent;
  readonly borders: readonly BandBorder[];
  readonly bands: BandFit | null;
  readonly strength: number;
}

/** A rod bends less than this share of its length. */
const STRAIGHT = 0.006;

/**
 * Finds a straight rod: a ribbon of even taper, straight, in one colour or two taking turns. Plain rods need both ends in
 * the photo; banded ones are read from their borders, however many are hidden.
 */
export function findRod(photo: Raster, request: RodRequest): FoundLine | NoReference {
  const rods = rodCandidates(photo).sort((a, b) => b.strength - a.strength);
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
        ? `a straight strip is in the photo, but not both of its ends, so the length of ${request.lengthM.toFixed(2)} m gives no scale: show both ends`
        : 'no rod found: no straight strip of even width with two clear ends stands out from the soil; lay the rod uncovered beside the row',
    );
  }
  if (whole[1] !== undefined && whole[1].strength > 0.6 * rod.strength) return two();
  if (rod.bands !== null && rod.bands.borders.length >= 3) {
    return bandedLine(rod.extent, rod.traced, rod.bands, null, request.lengthM);
  }
  return lineOfLength('rod', rod, request.lengthM, []);
}

function rodCandidates(photo: Raster): RodCandidate[] {
  const found = findRibbons(photo, {
    channels: [
      { channel: 'light', polarity: 1 },
      { channel: 'light', polarity: -1 },
      { channel: 'red', polarity: 1 },
      { channel: 'yellow', polarity: 1 },
    ],
    most: 10,
    alsoWider: true,
  });
  const out: RodCandidate[] = [];
  for (const { ribbon } of found) {
    const traced = traceRibbon(photo, ribbon, 4, 'several');
    if (traced === null || traced.edgeShare < 0.45) continue;
    const first = rodExtent(photo, traced.ribbon);
    if (first === null) continue;
    // the rough stretch may have held one band colour only: trace again over the whole
    const again = traceRibbon(photo, first.ribbon, 3, 'several') ?? traced;
    const extent = rodExtent(photo, again.ribbon) ?? first;
    const length = extent.ribbon.toS - extent.ribbon.fromS;
    const mid = (extent.ribbon.toS + extent.ribbon.fromS) / 2;
    const width = ribbonWidth(extent.ribbon, mid);
    const chord =
      (ribbonOffset(extent.ribbon, extent.ribbon.fromS) + ribbonOffset(extent.ribbon, extent.ribbon.toS)) / 2;
    if (Math.abs(ribbonOffset(extent.ribbon, mid) - chord) > Math.max(1.5, STRAIGHT * length)) continue;
    if (length < 12 * width || extent.visibleShare < 0.4) continue;
    const borders = bandBorders(extent);
    const taper = (extent.ribbon.width[1] * (length / 2)) / extent.ribbon.scaleS / width;
    const bands = fitBands(borders, mid, length / 2, taper, (again.taperSdPx / width) * 1.5);
    const strength = length * again.edgeShare * extent.visibleShare * (bands === null ? 1 : 1.5);
    const candidate = { traced: again, extent, borders, bands, strength };
    const same = out.findIndex(
      (o) => sameRibbon(o.extent.ribbon, extent.ribbon) || alongside(o.extent.ribbon, extent.ribbon),
    );
    if (same < 0) out.push(candidate);
    else if (outer(candidate, out[same]!)) out[same] = candidate;
  }
  return out;
}

/** Whether the first of two candidates on one line is the rod and the second a highlight along it, or a worse fit. */
function outer(a: RodCandidate, b: RodCandidate): boolean {
  const width = (r: RodCandidate): number =>
    ribbonWidth(r.extent.ribbon, (r.extent.ribbon.fromS + r.extent.ribbon.toS) / 2);
  const wider = Math.log(width(a) / width(b));
  if (wider > 0.3) return a.strength > 0.75 * b.strength;
  if (wider < -0.3) return a.strength > b.strength / 0.75;
  return a.strength > b.strength;
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
