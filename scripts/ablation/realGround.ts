import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Detection } from '../../src/core/plants/detection.ts';
import type { Raster } from '../../src/core/raster/raster.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { REAL_FOLDERS } from '../score/realPhotos.ts';
import type { Findings } from './detectors.ts';

type Find = (strip: Strip, search: typeof NOTHING_KNOWN) => Promise<Findings>;

const NOTHING_KNOWN = { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null };
/** Ground nearer than this to a labelled plant's middle may show its leaves. */
const CLEAR_MM = 60;
const LEAST_SIDE_MM = 150;
const STEP_PX = 8;

interface Labelled {
  readonly file: string;
  readonly plants: readonly { x: number; y: number; w?: number; h?: number }[];
  readonly ignore?: readonly { x: number; y: number; r: number }[];
}

type Box = readonly [number, number, number, number];

/** The largest rectangle of each real photo that holds no labelled plant, searched by every way of finding plants. */
export async function realGround(
  folder: string,
  find: Find,
): Promise<readonly { file: string; areaM2: number; counted: Readonly<Record<string, number>> }[]> {
  const out = [];
  for (const [name, { mmPerPx }] of Object.entries(REAL_FOLDERS)) {
    const list = join(folder, name, 'counts.json');
    if (!existsSync(list)) continue;
    for (const entry of JSON.parse(readFileSync(list, 'utf8')) as Labelled[]) {
      const scale = mmPerPx[Object.keys(mmPerPx).find((start) => entry.file.startsWith(start)) ?? ''];
      if (scale === undefined) continue;
      const photo = await readPhoto(join(folder, name, entry.file));
      if (!photo.ok) throw new Error(photo.found);
      const { raster } = photo.value;
      const taken = [
        ...entry.plants.map((p): Box => {
          const half = Math.max(CLEAR_MM / scale, (p.w ?? 0) / 2 + 8, (p.h ?? 0) / 2 + 8);
          return [p.x - half, p.y - half, p.x + half, p.y + half];
        }),
        ...(entry.ignore ?? []).map(({ x, y, r }): Box => [x - r, y - r, x + r, y + r]),
      ];
      const [left, top, right, bottom] = largestEmpty(raster.widthPx, raster.heightPx, taken);
      if (Math.min(right - left, bottom - top) * scale < LEAST_SIDE_MM) continue;
      const found = await find(asStrip(cut(raster, [left, top, right, bottom]), scale), NOTHING_KNOWN);
      const plants = (detections: readonly Detection[]) => detections.filter((d) => d.kind === 'plant').length;
      out.push({
        file: `${name}/${entry.file}`,
        areaM2: ((right - left) * (bottom - top) * scale * scale) / 1e6,
        counted: {
          colour: plants(found.colour.findings.detections),
          network: plants(found.network.findings.detections),
          fused: plants(found.fused.findings.detections),
        },
      });
    }
  }
  return out;
}

/** By trying all borders on a grid: pictures are small. */
function largestEmpty(widthPx: number, heightPx: number, taken: readonly Box[]): Box {
  let best: Box = [0, 0, 0, 0];
  let most = 0;
  for (let top = 0; top < heightPx; top += STEP_PX) {
    for (let bottom = top + STEP_PX; bottom <= heightPx; bottom += STEP_PX) {
      const across = taken.filter(([, t, , b]) => t < bottom && b > top).sort((a, b) => a[0] - b[0]);
      let left = 0;
      for (const [from, , to] of [...across, [widthPx, 0, widthPx, 0] as Box]) {
        const area = (Math.min(from, widthPx) - left) * (bottom - top);
        if (area > most) {
          most = area;
          best = [Math.ceil(left), top, Math.floor(Math.min(from, widthPx)), bottom];
        }
        left = Math.max(left, to);
      }
    }
  }
  return best;
}

function cut({ data, widthPx }: Raster, [left, top, right, bottom]: Box): Raster {
  const w = right - left;
  const h = bottom - top;
  const out = new Uint8Array(4 * w * h);
  for (let y = 0; y < h; y++) {
    const from = 4 * ((top + y) * widthPx + left);
    out.set(data.subarray(from, from + 4 * w), 4 * y * w);
  }
  return { widthPx: w, heightPx: h, data: out };
}

function asStrip(raster: Raster, mmPerPx: number): Strip {
  return {
    raster,
    mmPerPx,
    alongAtLeftM: 0,
    acrossAtTopM: (raster.heightPx * mmPerPx) / 2000,
    photoToStrip: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    stripToPhoto: [1, 0, 0, 0, 1, 0, 0, 0, 1],
    camera: null,
    worstPhotoPxPerStripPx: 1,
  };
}
