import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { halve } from '../../raster/halve.ts';
import type { Raster } from '../../raster/raster.ts';
import { type ContrastChannel, type ContrastEdges, contrastEdges, makeEdgeWorkspace } from './contrastEdges.ts';
import { edgePairs } from './edgePairs.ts';
import { type FittedRibbon, fitRibbon } from './fitRibbon.ts';
import { lineThrough } from './lineThrough.ts';
import { lineVotes } from './lineVotes.ts';
import { type Ribbon, ribbonPoint, ribbonWidth, scaleRibbon } from './ribbon.ts';

export interface RibbonSearch {
  readonly channels: readonly { readonly channel: ContrastChannel; readonly polarity: 1 | -1 }[];
  readonly most: number;
  /** Look for a wider ribbon around each one found, and give both. */
  readonly alsoWider: boolean;
  /** Two photo points that the ribbon is known to run through; without them it is looked for everywhere. */
  readonly through?: readonly [Point, Point];
}

const WORKING_SIDE_PX = 2100;
/** Of the working picture so much may be edge. */
const EDGE_SHARE = 0.12;

/**
 * Long thin ribbons in a photo, best supported first, in photo pixels: rough (about a pixel of the shrunken picture);
 * `traceRibbon` refines one on the full photo.
 */
export function findRibbons(photo: Raster, search: RibbonSearch): FittedRibbon[] {
  let small = photo;
  let factor = 1;
  while (Math.max(small.widthPx, small.heightPx) > WORKING_SIDE_PX && Math.min(small.widthPx, small.heightPx) > 64) {
    small = halve(small);
    factor *= 2;
  }
  if (Math.min(small.widthPx, small.heightPx) < 24) return [];
  const maxWidthPx = Math.max(12, Math.round(0.03 * Math.max(small.widthPx, small.heightPx)));
  const found: FittedRibbon[] = [];
  const workspace = makeEdgeWorkspace(small);
  const edges = new Map<ContrastChannel, ContrastEdges>();
  for (const { channel, polarity } of search.channels) {
    const seen = edges.get(channel) ?? contrastEdges(small, channel, EDGE_SHARE, workspace);
    edges.clear();
    edges.set(channel, seen);
    const pairs = edgePairs(seen, polarity, maxWidthPx);
    const lines =
      search.through === undefined
        ? lineVotes(pairs, small.widthPx, small.heightPx, search.most)
        : [lineThrough(search.through, factor, small.widthPx, small.heightPx)];
    for (const line of lines) {
      const fitted = fitRibbon(pairs, line, small.widthPx, small.heightPx, 0);
      if (fitted === null) continue;
      const tries = [fitted];
      if (search.alsoWider) {
        const wider = fitRibbon(pairs, line, small.widthPx, small.heightPx, 1.6 * middleWidth(fitted.ribbon));
        if (wider !== null && wider.supportPx > 0.35 * fitted.supportPx) tries.push(wider);
      }
      for (const { ribbon, supportPx } of tries) {
        if (ribbon.toS - ribbon.fromS < 6 * middleWidth(ribbon) || supportPx < 40) continue;
        found.push({ ribbon: scaleRibbon(ribbon, factor), supportPx: supportPx * factor });
      }
    }
  }
  found.sort((a, b) => b.supportPx - a.supportPx);
  const kept: FittedRibbon[] = [];
  for (const f of found) {
    if (!kept.some((k) => sameRibbon(k.ribbon, f.ribbon) && sameWidth(k.ribbon, f.ribbon))) kept.push(f);
    if (kept.length >= search.most) break;
  }
  return kept;
}

function middleWidth(ribbon: Ribbon): number {
  return ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
}

function sameWidth(a: Ribbon, b: Ribbon): boolean {
  return Math.abs(Math.log(middleWidth(a) / middleWidth(b))) < 0.4;
}

/** Whether two ribbons cover the same strip: most of the shorter lies within the wider's width of the longer. */
export function sameRibbon(a: Ribbon, b: Ribbon): boolean {
  const [long, short] = a.toS - a.fromS >= b.toS - b.fromS ? [a, b] : [b, a];
  let near = 0;
  for (let i = 0; i <= 10; i++) {
    const [x, y] = ribbonPoint(short, short.fromS + ((short.toS - short.fromS) * i) / 10, 0);
    const px = x - long.origin[0];
    const py = y - long.origin[1];
    const s = px * long.dir[0] + py * long.dir[1];
    const [cx, cy] = ribbonPoint(long, s, 0);
    const reach = Math.max(6, ribbonWidth(long, s), ribbonWidth(short, short.fromS));
    if (norm(x - cx, y - cy) < reach) near++;
  }
  return near >= 7;
}
