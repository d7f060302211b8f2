import { type Camera, groundAt } from './camera.ts';
import type { Mesh } from './mesh.ts';
import type { SoilShape } from './soilShape.ts';

/**
 * The soil as seen by this camera: a grid over the picture (and a margin), each point dropped on the mean plane along
 * its ray and lifted to the soil's height there. So every part of the picture has the same fineness of relief.
 */
export function soilMesh(camera: Camera, soil: SoilShape, stepPx: number): { fine: Mesh; coarseIndices: Uint32Array } {
  const margin = 0.05;
  const columns = Math.ceil((camera.widthPx * (1 + 2 * margin)) / stepPx);
  const rows = Math.ceil((camera.heightPx * (1 + 2 * margin)) / stepPx);
  const count = rows * columns;
  const positions = new Float32Array(count * 3);
  const normals = new Float32Array(count * 3);
  const colours = new Float32Array(count * 3);
  const surface = new Float32Array(count * 4);
  const missing = new Uint8Array(count);
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const i = r * columns + c;
      const x = -camera.widthPx * margin + c * stepPx;
      const y = -camera.heightPx * margin + r * stepPx;
      const p = groundAt(camera, x, y);
      const q = groundAt(camera, x, y + stepPx);
      if (p === null || q === null || Math.hypot(p[0] - camera.position[0], p[1] - camera.position[1]) > 40) {
        missing[i] = 1;
        continue;
      }
      const detailM = Math.hypot(p[0] - q[0], p[1] - q[1]);
      positions.set([p[0], p[1], soil.heightM(p[0], p[1], detailM)], i * 3);
      colours.set(soil.colour(p[0], p[1], detailM), i * 3);
    }
  }
  darkenHollows(positions, colours, rows, columns);
  const at = (r: number, c: number): number =>
    Math.max(0, Math.min(rows - 1, r)) * columns + Math.max(0, Math.min(columns - 1, c));
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const [l, t, u, d] = [at(r, c - 1) * 3, at(r, c + 1) * 3, at(r - 1, c) * 3, at(r + 1, c) * 3];
      const p = positions;
      const ax = p[t]! - p[l]!;
      const ay = p[t + 1]! - p[l + 1]!;
      const az = p[t + 2]! - p[l + 2]!;
      const bx = p[u]! - p[d]!;
      const by = p[u + 1]! - p[d + 1]!;
      const bz = p[u + 2]! - p[d + 2]!;
      const [nx, ny, nz] = [ay * bz - az * by, az * bx - ax * bz, ax * by - ay * bx];
      const k = (nz < 0 ? -1 : 1) / Math.max(1e-20, Math.hypot(nx, ny, nz));
      normals.set([nx * k, ny * k, nz * k], at(r, c) * 3);
    }
  }
  const triangles = (skip: number): Uint32Array => {
    const out: number[] = [];
    for (let r = 0; r + skip < rows; r += skip) {
      for (let c = 0; c + skip < columns; c += skip) {
        const a = r * columns + c;
        const b = a + skip * columns;
        if (missing[a] || missing[a + skip] || missing[b] || missing[b + skip]) continue;
        out.push(a, b, a + skip, a + skip, b, b + skip);
      }
    }
    return new Uint32Array(out);
  };
  return {
    fine: { positions, normals, colours, surface, ids: new Float32Array(count), indices: triangles(1) },
    coarseIndices: triangles(3),
  };
}

/** Less of the sky reaches a hollow than a rise: darkens points that lie below the mean of the 9 x 9 points round them. */
function darkenHollows(positions: Float32Array, colours: Float32Array, rows: number, columns: number): void {
  const radius = 4;
  const across = new Float32Array(rows * columns);
  const mean = new Float32Array(rows * columns);
  const smooth = (
    read: (i: number) => number,
    out: Float32Array,
    lines: number,
    steps: number,
    line: number,
    step: number,
  ): void => {
    for (let l = 0; l < lines; l++) {
      const at = (k: number): number => l * line + Math.max(0, Math.min(steps - 1, k)) * step;
      let sum = 0;
      for (let k = -radius; k <= radius; k++) sum += read(at(k));
      for (let k = 0; k < steps; k++) {
        out[at(k)] = sum / (2 * radius + 1);
        sum += read(at(k + radius + 1)) - read(at(k - radius));
      }
    }
  };
  smooth((i) => positions[i * 3 + 2]!, across, rows, columns, columns, 1);
  smooth((i) => across[i]!, mean, columns, rows, 1, columns);
  for (let i = 0; i < rows * columns; i++) {
    // Far off the points lie wide apart, and the same dip is no hollow to a crumb.
    const next = i + columns < rows * columns ? i + columns : i - columns;
    const spacingM =
      Math.abs(positions[i * 3 + 1]! - positions[next * 3 + 1]!) + Math.abs(positions[i * 3]! - positions[next * 3]!);
    const below = (mean[i]! - positions[i * 3 + 2]!) / Math.max(0.004, 1.6 * spacingM);
    const light = Math.max(0.5, Math.min(1.18, 1 - 0.32 * below));
    for (let k = 0; k < 3; k++) colours[i * 3 + k] = colours[i * 3 + k]! * light;
  }
}
