import { addSheet, type Colour, MATERIAL, type MeshBuilder } from './mesh.ts';
import { valueNoise } from './noise.ts';
import { add, cross, heading, scale, unit, type Vec3 } from './vector.ts';

export type LeafShape = 'heart' | 'ovate' | 'lance' | 'spoon' | 'round' | 'blade';

export type LeafSpec = {
  readonly shape: LeafShape;
  readonly lengthM: number;
  readonly widthM: number;
  /** Where the blade starts and how it points. */
  readonly base: Vec3;
  readonly azimuth: number;
  /** Slope at the base: positive rises. */
  readonly rise: number;
  /** Turn about the midrib. */
  readonly bank: number;
  /** Bend down along the midrib, radians from base to tip. */
  readonly droop: number;
  /** V along the midrib, radians each side; negative is a roof. */
  readonly fold: number;
  /** Height of the waves of the edge, share of the width. */
  readonly wave: number;
  readonly colour: Colour;
  /** 0 whole .. 1 torn; the fraction is the leaf's own seed. */
  readonly damage: number;
  readonly seed: number;
  readonly id: number;
};

/** Half width at v along the midrib (0 base, 1 tip), share of the leaf's half width. */
function outline(shape: LeafShape, v: number): number {
  const tip = Math.max(0, 1 - v);
  switch (shape) {
    case 'heart':
      return Math.min(1, 1.78 * (v + 0.06) ** 0.33 * tip ** 0.78);
    case 'ovate':
      return Math.min(1, 2.25 * (v + 0.005) ** 0.62 * tip ** 0.85);
    case 'lance':
      return Math.min(1, 2.0 * v ** 0.75 * tip ** 0.75);
    case 'spoon':
      return Math.min(1, 0.12 + 2.4 * v ** 1.8 * tip ** 0.5);
    case 'round':
      return Math.min(1, 2 * Math.sqrt(Math.max(0, v * tip)));
    case 'blade':
      return Math.min(1, 0.5 + 2 * v) * Math.sqrt(tip);
  }
}

/** How far the sides reach back past the petiole, share of the length: the lobes of a heart. */
function lobe(shape: LeafShape, u: number, v: number): number {
  if (shape !== 'heart') return 0;
  return 0.16 * Math.abs(u) ** 1.3 * (1 - v) ** 4;
}

/** Adds a leaf blade and returns where its midrib ends. Seen from above, u = -1 is its left edge and +1 its right. */
export function addLeaf(mesh: MeshBuilder, leaf: LeafSpec): Vec3 {
  const rows = mesh.coarse ? 6 : leaf.shape === 'blade' ? 12 : leaf.lengthM > 0.02 ? 14 : 9;
  const columns = mesh.coarse ? 5 : leaf.shape === 'blade' ? 5 : leaf.lengthM > 0.02 ? 11 : 7;
  // Midrib: an arc whose slope falls by `droop` from base to tip.
  const midrib: Vec3[] = [leaf.base];
  const slopes: number[] = [leaf.rise];
  for (let i = 1; i < rows; i++) {
    const slope = leaf.rise - leaf.droop * (i / (rows - 1)) ** 1.4;
    slopes.push(slope);
    midrib.push(add(midrib[i - 1] as Vec3, scale(heading(leaf.azimuth, slope), leaf.lengthM / (rows - 1))));
  }
  const left = heading(leaf.azimuth + Math.PI / 2, 0);
  addSheet(
    mesh,
    rows,
    columns,
    (r, c) => {
      const v = r / (rows - 1);
      const u = (2 * c) / (columns - 1) - 1;
      const ahead = heading(leaf.azimuth, slopes[r] as number);
      const up0 = unit(cross(ahead, left));
      const side = add(scale(left, Math.cos(leaf.bank)), scale(up0, Math.sin(leaf.bank)));
      const up = unit(cross(ahead, side));
      const half = outline(leaf.shape, v) * leaf.widthM * 0.5;
      const ragged = 1 + 0.05 * valueNoise(v * 5 + leaf.seed, Math.sign(u) * 3 + leaf.seed, 7) * Math.abs(u);
      const out = half * u * ragged;
      const curl = leaf.fold * (1 - 0.35 * Math.abs(u));
      const ripple =
        leaf.wave * leaf.widthM * Math.abs(u) ** 1.5 * valueNoise(v * 3.1 + leaf.seed * 1.7, u * 1.5 + leaf.seed, 11);
      const quilt = leaf.shape === 'blade' ? 0 : 0.012 * leaf.widthM * Math.cos(u * 9 - v * 16) * (1 - Math.abs(u));
      const lift = Math.abs(out) * Math.sin(curl) + ripple + quilt;
      return add(
        add(midrib[r] as Vec3, scale(ahead, -lobe(leaf.shape, u, v) * leaf.lengthM)),
        add(scale(side, -out * Math.cos(curl)), scale(up, lift)),
      );
    },
    (r, c) => ({
      colour: leaf.colour,
      surface: [
        (2 * c) / (columns - 1) - 1,
        r / (rows - 1),
        MATERIAL.leaf,
        Math.floor(leaf.seed * 8) + Math.min(0.98, Math.max(0.02, leaf.damage)),
      ],
      id: leaf.id,
    }),
  );
  return midrib[rows - 1] as Vec3;
}
