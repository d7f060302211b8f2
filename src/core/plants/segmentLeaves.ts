import { dropRibbons } from '../raster/dropRibbons.ts';
import { fillHoles } from '../raster/fillHoles.ts';
import { fillPolygons } from '../raster/fillPolygons.ts';
import { growMask } from '../raster/growMask.ts';
import type { Field, Mask } from '../raster/raster.ts';
import { smoothMask } from '../raster/smoothMask.ts';
import { vegetationIndex } from '../raster/vegetationIndex.ts';
import { square } from '../statistics/square.ts';
import type { Strip } from '../straighten/strip.ts';
import type { PlantSearch } from './detection.ts';
import { type GreenThreshold, greenThreshold } from './greenThreshold.ts';

export interface LeafMask {
  readonly mask: Mask;
  readonly index: Field<Float32Array>;
  readonly threshold: GreenThreshold;
}

/** How far pale tissue may reach from sure leaf, and the largest hole in a leaf that is filled, in millimetres. */
const SUPPORT_REACH_MM = 8;
const HOLE_MM2 = 40;
/** A hose, a cord or a tape's edge is longer than any leaf, and not wider than a hose. */
const RIBBON_MM = { length: 220, width: 45 } as const;
/** A channel sum from which a pixel counts as glare. */
const GLARE_SUM = 660;

/** The leaf pixels of a strip: index, guarded threshold, hysteresis, majority smoothing, holes and glare filled, ribbons out. */
export function segmentLeaves(strip: Strip, search: PlantSearch): LeafMask {
  const { raster, mmPerPx } = strip;
  const { widthPx, heightPx } = raster;
  const index = vegetationIndex(raster);
  if (search.coveredStripPx.length > 0) {
    const covered = fillPolygons(widthPx, heightPx, search.coveredStripPx);
    for (let i = covered.data.indexOf(1); i >= 0; i = covered.data.indexOf(1, i)) {
      for (; covered.data[i] === 1; i++) index.data[i] = -3;
    }
  }
  const threshold = greenThreshold(index);
  const { leaf, weak } = above(index, threshold);
  const grown = growMask(smoothMask(leaf), weak, Math.max(1, Math.round(SUPPORT_REACH_MM / mmPerPx)));
  const glare = (i: number): boolean =>
    raster.data[4 * i]! + raster.data[4 * i + 1]! + raster.data[4 * i + 2]! > GLARE_SUM;
  const whole = fillHoles(smoothMask(grown), HOLE_MM2 / square(mmPerPx), glare);
  const mask = dropRibbons(whole, { minLengthPx: RIBBON_MM.length / mmPerPx, maxWidthPx: RIBBON_MM.width / mmPerPx });
  return { mask, index, threshold };
}

/** Where there is leaf, and where there is what may belong to a leaf beside it. */
function above(index: Field<Float32Array>, { leaf, support }: GreenThreshold): { leaf: Mask; weak: Mask } {
  const { data: values, widthPx, heightPx } = index;
  const strong = new Uint8Array(values.length);
  const weak = new Uint8Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const v = values[i]!;
    if (v > support) {
      weak[i] = 1;
      if (v > leaf) strong[i] = 1;
    }
  }
  return { leaf: { widthPx, heightPx, data: strong }, weak: { widthPx, heightPx, data: weak } };
}
