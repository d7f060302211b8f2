import { addLeaf, type LeafShape } from './leaf.ts';
import { addTube, type Colour, MATERIAL, type MeshBuilder } from './mesh.ts';
import type { Random } from './random.ts';
import { add, heading, scale, type Vec3 } from './vector.ts';

export type WeedKind = 'broadleaf' | 'grass';

const vary = (c: Colour, random: Random): Colour => {
  const k = 1 + random.normal(0, 0.12);
  return [c[0] * k * (1 + random.normal(0, 0.1)), c[1] * k, c[2] * k];
};

/** A small broadleaf weed: two cotyledons, then leaves in a spiral on a short stem. Returns its height. */
function addBroadleaf(mesh: MeshBuilder, base: Vec3, random: Random, id: number): number {
  const spread = random.pick([0.006, 0.01, 0.015, 0.022, 0.035]) * random.between(0.75, 1.3);
  const shape = random.pick<LeafShape>(['ovate', 'ovate', 'lance', 'spoon', 'round']);
  const slender = { ovate: 0.6, lance: 0.32, spoon: 0.5, round: 0.85, heart: 0.9, blade: 0.1 }[shape];
  const leaves = spread < 0.009 ? random.whole(0, 2) : random.whole(3, 9);
  const hue = random.pick<Colour>([
    [0.09, 0.19, 0.04],
    [0.13, 0.2, 0.09],
    [0.07, 0.16, 0.035],
    [0.16, 0.24, 0.05],
    [0.15, 0.13, 0.06],
  ]);
  const stemM = spread * random.between(0.15, 0.9);
  const top = add(base, [random.normal(0, 0.1) * stemM, random.normal(0, 0.1) * stemM, stemM]);
  const stem: Colour = random.chance(0.5) ? [0.26, 0.12, 0.09] : [0.2, 0.26, 0.1];
  const tube = (from: Vec3, to: Vec3, radius: number): void =>
    addTube(
      mesh,
      [from, to],
      () => radius,
      () => ({ colour: stem, material: MATERIAL.plain, id }),
      5,
    );
  tube(add(base, [0, 0, -0.004]), top, 0.0006 + spread * 0.02);
  const start = random.between(0, 6.28);
  for (const turn of [0, Math.PI]) {
    const size = Math.max(0.004, spread * random.between(0.3, 0.55));
    const at = add(base, scale([top[0] - base[0], top[1] - base[1], stemM], 0.6));
    addLeaf(mesh, {
      shape: random.chance(0.5) ? 'lance' : 'spoon',
      lengthM: size,
      widthM: size * random.between(0.25, 0.5),
      base: at,
      azimuth: start + turn,
      rise: random.between(0, 0.5),
      bank: 0,
      droop: 0.3,
      fold: 0.1,
      wave: 0,
      colour: vary(hue, random),
      damage: 0,
      seed: random.next() * 90,
      id,
    });
  }
  for (let i = 0; i < leaves; i++) {
    const a = start + 1.57 + i * 2.4 + random.normal(0, 0.2);
    const inner = i / Math.max(1, leaves);
    const size = spread * (1 - 0.65 * inner) * random.between(0.8, 1.15);
    const rise = 0.15 + 0.9 * inner + random.normal(0, 0.15);
    const end = add(top, scale(heading(a, rise), size * random.between(0.2, 0.5)));
    if (size > 0.008) tube(top, end, 0.0006);
    addLeaf(mesh, {
      shape,
      lengthM: size,
      widthM: size * slender,
      base: size > 0.008 ? end : top,
      azimuth: a,
      rise: rise - 0.2,
      bank: random.normal(0, 0.15),
      droop: random.between(0.1, 0.8),
      fold: random.normal(0.15, 0.15),
      wave: random.between(0.02, 0.09),
      colour: vary(hue, random),
      damage: random.chance(0.2) ? random.between(0.05, 0.4) : 0,
      seed: random.next() * 90,
      id,
    });
  }
  return stemM + spread * 0.5;
}

/** A grass seedling: a few blades rising from one point and arching over. Returns its height. */
function addGrass(mesh: MeshBuilder, base: Vec3, random: Random, id: number): number {
  const size = random.pick([0.018, 0.03, 0.05, 0.075]) * random.between(0.7, 1.25);
  const blades = size < 0.025 ? random.whole(1, 2) : random.whole(2, 5);
  const colour = random.pick<Colour>([
    [0.1, 0.2, 0.045],
    [0.14, 0.23, 0.06],
    [0.2, 0.25, 0.07],
  ]);
  for (let i = 0; i < blades; i++) {
    addLeaf(mesh, {
      shape: 'blade',
      lengthM: size * random.between(0.6, 1.15),
      widthM: random.between(0.0022, 0.0055) * Math.min(1.4, 0.5 + size * 14),
      base: add(base, [0, 0, -0.002]),
      azimuth: random.between(0, 6.28),
      rise: random.between(0.5, 1.45),
      bank: random.normal(0, 0.3),
      droop: random.between(0.2, 1.7),
      fold: random.between(0.1, 0.5),
      wave: 0,
      colour: vary(colour, random),
      damage: 0,
      seed: random.next() * 90,
      id,
    });
  }
  return size * 0.7;
}

export function addWeed(mesh: MeshBuilder, base: Vec3, kind: WeedKind, random: Random, id: number): number {
  return kind === 'grass' ? addGrass(mesh, base, random, id) : addBroadleaf(mesh, base, random, id);
}
