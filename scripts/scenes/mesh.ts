import { add, cross, scale, square, sub, unit, type Vec3 } from './vector.ts';

/** How the surface takes light: the shader's `material` number. */
export const MATERIAL = { soil: 0, leaf: 1, plain: 2, printed: 3, glossy: 4 } as const;
export type Colour = Vec3;

/** A growing triangle mesh. `id` is the number of the plant (0: no plant), for the visibility pass. */
export type MeshBuilder = {
  /** Whether curved things may be made of few triangles, as they are far away. */
  coarse: boolean;
  readonly positions: number[];
  readonly normals: number[];
  readonly colours: number[];
  /** u across, v along, material, seed or damage. */
  readonly surface: number[];
  readonly ids: number[];
  readonly indices: number[];
};

export type Mesh = {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly colours: Float32Array;
  readonly surface: Float32Array;
  readonly ids: Float32Array;
  readonly indices: Uint32Array;
};

export function newMesh(): MeshBuilder {
  return { coarse: false, positions: [], normals: [], colours: [], surface: [], ids: [], indices: [] };
}

export function finishMesh(mesh: MeshBuilder): Mesh {
  return {
    positions: new Float32Array(mesh.positions),
    normals: new Float32Array(mesh.normals),
    colours: new Float32Array(mesh.colours),
    surface: new Float32Array(mesh.surface),
    ids: new Float32Array(mesh.ids),
    indices: new Uint32Array(mesh.indices),
  };
}

export type VertexLook = {
  readonly colour: Colour;
  readonly surface: readonly [number, number, number, number];
  readonly id: number;
};

export function addVertex(mesh: MeshBuilder, at: Vec3, normal: Vec3, look: VertexLook): number {
  const index = mesh.positions.length / 3;
  mesh.positions.push(at[0], at[1], at[2]);
  mesh.normals.push(normal[0], normal[1], normal[2]);
  mesh.colours.push(look.colour[0], look.colour[1], look.colour[2]);
  mesh.surface.push(...look.surface);
  mesh.ids.push(look.id);
  return index;
}

/** A sheet of rows x columns points; normals follow the sheet, facing (column direction) x (row direction). */
export function addSheet(
  mesh: MeshBuilder,
  rows: number,
  columns: number,
  point: (r: number, c: number) => Vec3,
  look: (r: number, c: number) => VertexLook,
): void {
  const grid: Vec3[] = [];
  for (let r = 0; r < rows; r++) for (let c = 0; c < columns; c++) grid.push(point(r, c));
  const at = (r: number, c: number): Vec3 =>
    grid[Math.max(0, Math.min(rows - 1, r)) * columns + Math.max(0, Math.min(columns - 1, c))] as Vec3;
  const base = mesh.positions.length / 3;
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < columns; c++) {
      const along = sub(at(r + 1, c), at(r - 1, c));
      const across = sub(at(r, c + 1), at(r, c - 1));
      addVertex(mesh, at(r, c), unit(cross(across, along)), look(r, c));
    }
  }
  for (let r = 0; r + 1 < rows; r++) {
    for (let c = 0; c + 1 < columns; c++) {
      const a = base + r * columns + c;
      mesh.indices.push(a, a + 1, a + columns, a + 1, a + columns + 1, a + columns);
    }
  }
}

/** A tube along a path; radius and colour may change along it. Open ends are closed by shrinking. */
export function addTube(
  mesh: MeshBuilder,
  path: readonly Vec3[],
  radiusM: (t: number) => number,
  look: (t: number) => { colour: Colour; material: number; id: number },
  fineSides = 8,
): void {
  const sides = mesh.coarse ? 3 : fineSides;
  const base = mesh.positions.length / 3;
  let side = square(unit(sub(path[1] as Vec3, path[0] as Vec3)));
  for (let i = 0; i < path.length; i++) {
    const before = path[Math.max(0, i - 1)] as Vec3;
    const after = path[Math.min(path.length - 1, i + 1)] as Vec3;
    const ahead = unit(sub(after, before));
    const up = unit(cross(ahead, side));
    side = unit(cross(up, ahead));
    const t = i / (path.length - 1);
    const { colour, material, id } = look(t);
    for (let s = 0; s <= sides; s++) {
      const angle = (2 * Math.PI * s) / sides;
      const normal = add(scale(side, Math.cos(angle)), scale(up, Math.sin(angle)));
      const at = add(path[i] as Vec3, scale(normal, radiusM(t)));
      addVertex(mesh, at, normal, { colour, surface: [s / sides, t, material, 0], id });
    }
  }
  for (let i = 0; i + 1 < path.length; i++) {
    for (let s = 0; s < sides; s++) {
      const a = base + i * (sides + 1) + s;
      const b = a + sides + 1;
      mesh.indices.push(a, a + 1, b, a + 1, b + 1, b);
    }
  }
}

/** A closed lump: a sphere pushed about by `shape`, for stones, clods, cotyledons. */
export function addLump(
  mesh: MeshBuilder,
  shape: (direction: Vec3) => Vec3,
  look: (direction: Vec3) => VertexLook,
  fineRings = 6,
  fineSides = 9,
): void {
  const rings = mesh.coarse ? 4 : fineRings;
  const sides = mesh.coarse ? 6 : fineSides;
  const point = (r: number, c: number): Vec3 => {
    const polar = Math.PI * (0.001 + (0.998 * r) / rings);
    const angle = (-2 * Math.PI * c) / sides;
    return [Math.sin(polar) * Math.cos(angle), Math.sin(polar) * Math.sin(angle), Math.cos(polar)];
  };
  addSheet(
    mesh,
    rings + 1,
    sides + 1,
    (r, c) => shape(point(r, c)),
    (r, c) => look(point(r, c)),
  );
}
