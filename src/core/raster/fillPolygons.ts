import type { Mask } from './raster.ts';

/** A mask of the pixels whose centre lies in any of the polygons (even-odd rule within each). */
export function fillPolygons(
  widthPx: number,
  heightPx: number,
  polygonsPx: readonly (readonly (readonly [number, number])[])[],
): Mask {
  const data = new Uint8Array(widthPx * heightPx);
  for (const polygon of polygonsPx) {
    for (let y = 0; y < heightPx; y++) {
      const crossings = crossingsAt(polygon, y);
      for (let k = 0; k + 1 < crossings.length; k += 2) {
        const from = Math.max(0, Math.ceil(crossings[k]!));
        const to = Math.min(widthPx - 1, Math.floor(crossings[k + 1]!));
        if (to >= from) data.fill(1, y * widthPx + from, y * widthPx + to + 1);
      }
    }
  }
  return { widthPx, heightPx, data };
}

function crossingsAt(polygon: readonly (readonly [number, number])[], y: number): number[] {
  const out: number[] = [];
  for (let i = 0; i < polygon.length; i++) {
    const [x0, y0] = polygon[i]!;
    const [x1, y1] = polygon[(i + 1) % polygon.length]!;
    if (y0 <= y === y1 <= y) continue;
    out.push(x0 + ((y - y0) / (y1 - y0)) * (x1 - x0));
  }
  return out.sort((a, b) => a - b);
}
