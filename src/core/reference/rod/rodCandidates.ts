import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { alongside } from '../line/alongside.ts';
import { findRibbons, sameRibbon } from '../line/findRibbons.ts';
import { narrowingSd } from '../line/narrowingSd.ts';
import { ribbonOffset, ribbonWidth } from '../line/ribbon.ts';
import { type TracedRibbon, traceRibbon } from '../line/traceRibbon.ts';
import { type BandBorder, bandBorders } from './bandBorders.ts';
import { type BandFit, fitBands } from './fitBands.ts';
import { type RodExtent, rodExtent } from './rodExtent.ts';

export interface RodCandidate {
  readonly traced: TracedRibbon;
  readonly extent: RodExtent;
  readonly borders: readonly BandBorder[];
  readonly bands: BandFit | null;
  readonly strength: number;
}

/** A rod bends less than this share of its length. */
const STRAIGHT = 0.006;

/** Straight ribbons of one or two colours that hold on the full photo, strongest first; only those along a line where one is known. */
export function rodCandidates(photo: Raster, through?: readonly [Point, Point]): RodCandidate[] {
  const found = findRibbons(photo, {
    channels: [
      { channel: 'light', polarity: 1 },
      { channel: 'light', polarity: -1 },
      { channel: 'red', polarity: 1 },
      { channel: 'yellow', polarity: 1 },
    ],
    most: 10,
    alsoWider: true,
    ...(through === undefined ? {} : { through }),
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
    const bands = fitBands(borders, mid, length / 2, taper, narrowingSd(again, width));
    const strength = length * again.edgeShare * extent.visibleShare * (bands === null ? 1 : 1.5);
    const candidate = { traced: again, extent, borders, bands, strength };
    const same = out.findIndex(
      (o) => sameRibbon(o.extent.ribbon, extent.ribbon) || alongside(o.extent.ribbon, extent.ribbon),
    );
    if (same < 0) out.push(candidate);
    else if (outer(candidate, out[same]!)) out[same] = candidate;
  }
  return out.sort((a, b) => b.strength - a.strength);
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
