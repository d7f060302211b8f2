import type { Raster } from '../../raster/raster.ts';
import { findRibbons } from '../line/findRibbons.ts';
import { traceRibbon } from '../line/traceRibbon.ts';
import type { FrameBar } from './frameQuad.ts';

/** Straight strips of a photo that may be bars of a frame, in any of its colours. */
export function frameBars(photo: Raster): FrameBar[] {
  const found = findRibbons(photo, {
    channels: [
      { channel: 'light', polarity: 1 },
      { channel: 'light', polarity: -1 },
      { channel: 'red', polarity: 1 },
      { channel: 'yellow', polarity: 1 },
    ],
    most: 12,
    alsoWider: false,
  });
  return found.flatMap(({ ribbon }) => {
    const traced = traceRibbon(photo, ribbon, 4, 'several');
    return traced === null || traced.edgeShare < 0.4 ? [] : [{ ribbon: traced.ribbon, edgeShare: traced.edgeShare }];
  });
}
