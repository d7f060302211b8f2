import type { Point } from '../../geometry/point.ts';
import type { Raster } from '../../raster/raster.ts';
import { findRibbons, sameRibbon } from '../line/findRibbons.ts';
import { type RibbonExtent, ribbonExtent } from '../line/ribbonExtent.ts';
import { type TracedRibbon, traceRibbon } from '../line/traceRibbon.ts';

export interface RibbonCandidate {
  readonly traced: TracedRibbon;
  readonly extent: RibbonExtent;
}

/** Ribbons that hold on the full photo, longest support first; only those along a line where one is known. */
export function tapeRibbons(photo: Raster, through?: readonly [Point, Point]): RibbonCandidate[] {
  const found = findRibbons(photo, {
    channels: [
      { channel: 'light', polarity: 1 },
      { channel: 'yellow', polarity: 1 },
    ],
    most: 6,
    alsoWider: false,
    ...(through === undefined ? {} : { through }),
  });
  const longest = found[0]?.supportPx ?? 0;
  const out: RibbonCandidate[] = [];
  for (const { ribbon, supportPx } of found) {
    if (supportPx < 0.25 * longest) continue;
    const traced = traceRibbon(photo, ribbon, 4);
    if (traced === null || traced.edgeShare < 0.35) continue;
    const extent = ribbonExtent(photo, traced);
    if (extent === null || extent.visibleShare < 0.3) continue;
    if (!out.some((o) => sameRibbon(o.extent.ribbon, extent.ribbon))) out.push({ traced, extent });
  }
  return out;
}
