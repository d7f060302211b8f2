import { addLump, addSheet, addTube, type Colour, MATERIAL, type MeshBuilder } from './mesh.ts';
import { valueNoise } from './noise.ts';
import type { Random } from './random.ts';
import type { SoilShape } from './soilShape.ts';
import type { SoilSpec } from './spec.ts';
import { add, heading, scale, type Vec3 } from './vector.ts';

/** A rectangle of ground to strew things over. */
export type Region = {
  readonly fromAlongM: number;
  readonly toAlongM: number;
  readonly fromAcrossM: number;
  readonly toAcrossM: number;
};

const somewhere = (region: Region, random: Random): [number, number] => [
  random.between(region.fromAlongM, region.toAlongM),
  random.between(region.fromAcrossM, region.toAcrossM),
];

/** Straw and stalk pieces: bent, lying on the clods or leaning, pale to weathered grey. */
export function addStraw(mesh: MeshBuilder, soil: SoilShape, region: Region, perM2: number, random: Random): void {
  const area = (region.toAlongM - region.fromAlongM) * (region.toAcrossM - region.fromAcrossM);
  const lie = random.between(0, Math.PI);
  for (let n = 0; n < perM2 * area; n++) {
    const [x, y] = somewhere(region, random);
    const long = random.chance(0.3) ? random.between(0.06, 0.2) : random.between(0.012, 0.06);
    const a = random.chance(0.5) ? lie + random.normal(0, 0.5) : random.between(0, 6.28);
    const tilt = random.normal(0, 0.08);
    const colour = scale(
      random.pick<Colour>([
        [0.5, 0.4, 0.22],
        [0.58, 0.5, 0.33],
        [0.36, 0.29, 0.19],
        [0.25, 0.2, 0.14],
      ]),
      random.between(0.7, 1.15),
    );
    const path: Vec3[] = [];
    const bend = random.normal(0, 0.5);
    const steps = 6;
    let px = x;
    let py = y;
    for (let i = 0; i <= steps; i++) {
      const t = i / steps;
      const h = Math.max(soil.heightM(px, py), soil.heightM(px + 0.01, py)) + 0.0015 + Math.abs(tilt) * long * t;
      path.push([px, py, h]);
      const b = a + bend * t;
      px += (Math.cos(b) * long) / steps;
      py += (Math.sin(b) * long) / steps;
    }
    for (let pass = 0; pass < 2; pass++) {
      for (let i = 1; i < steps; i++) {
        const lift = ((path[i - 1] as Vec3)[2] + (path[i + 1] as Vec3)[2]) / 2;
        const p = path[i] as Vec3;
        path[i] = [p[0], p[1], Math.max(p[2] * 0.4 + lift * 0.6, soil.heightM(p[0], p[1]) + 0.0008)];
      }
    }
    if (random.chance(0.35)) {
      const width = random.between(0.003, 0.009);
      const left = heading(a + Math.PI / 2, random.normal(0, 0.3));
      addSheet(
        mesh,
        steps + 1,
        3,
        (r, c) =>
          add(add(path[r] as Vec3, scale(left, -(c - 1) * width * 0.5 * (1 - 0.4 * (r / steps)))), [
            0,
            0,
            c === 1 ? -0.001 : 0.0005,
          ]),
        (r, c) => ({ colour, surface: [c - 1, r / steps, MATERIAL.plain, 0], id: 0 }),
      );
    } else {
      const radius = random.between(0.0006, 0.0022);
      addTube(
        mesh,
        path,
        () => radius,
        () => ({ colour, material: MATERIAL.plain, id: 0 }),
        5,
      );
    }
  }
}

/** One irregular stone or clod, half sunk. */
export function addStone(
  mesh: MeshBuilder,
  at: Vec3,
  sizeM: number,
  colour: Colour,
  sunk: number,
  random: Random,
): void {
  const seed = random.whole(1, 100000);
  const squash = random.between(0.45, 0.9);
  const stretch = random.between(0.75, 1.3);
  const turn = random.between(0, 6.28);
  const rough = random.between(0.12, 0.3);
  const material = MATERIAL.soil;
  addLump(
    mesh,
    (d) => {
      const k =
        sizeM *
        0.5 *
        (1 +
          rough * valueNoise(d[0] * 1.6 + 9, d[1] * 1.6 + d[2] * 2.3, seed) +
          0.3 * rough * valueNoise(d[0] * 4, d[1] * 4 + d[2] * 5, seed + 1));
      const x = d[0] * k * stretch;
      const y = (d[1] * k) / stretch;
      return add(at, [
        x * Math.cos(turn) - y * Math.sin(turn),
        x * Math.sin(turn) + y * Math.cos(turn),
        d[2] * k * squash + sizeM * (0.5 * squash - sunk),
      ]);
    },
    (d) => ({
      colour: scale(colour, 0.92 + 0.16 * valueNoise(d[0] * 5, d[1] * 5 + d[2] * 3, seed + 2)),
      surface: [0, 0, material, 0],
      id: 0,
    }),
    sizeM > 0.02 ? 9 : sizeM > 0.01 ? 6 : 4,
    sizeM > 0.02 ? 13 : sizeM > 0.01 ? 8 : 6,
  );
}

/** Loose clods of the soil's own colour and stones of others; the smallest clods go to `crumbs`. */
export function addStones(
  mesh: MeshBuilder,
  crumbs: MeshBuilder,
  soil: SoilShape,
  spec: SoilSpec,
  region: Region,
  random: Random,
): void {
  const area = (region.toAlongM - region.fromAlongM) * (region.toAcrossM - region.fromAcrossM);
  const loose = { crumb: 420, cloddy: 300, crust: 90, cracked: 60 }[spec.surface] * spec.relief;
  for (let n = 0; n < Math.min(5000, loose * area); n++) {
    const [x, y] = somewhere(region, random);
    const size = Math.min(0.06, 0.005 + 0.006 * -Math.log(Math.max(1e-6, random.next())));
    addStone(
      size < 0.012 ? crumbs : mesh,
      [x, y, soil.heightM(x, y)],
      size,
      scale(soil.colour(x, y, 0.02), random.between(0.9, 1.35)),
      random.between(0.1, 0.4),
      random,
    );
  }
  for (let n = 0; n < spec.stonesPerM2 * area; n++) {
    const [x, y] = somewhere(region, random);
    const size = Math.min(0.09, 0.008 + 0.011 * -Math.log(Math.max(1e-6, random.next())));
    const grey = random.between(0.12, 0.5);
    const colour: Colour = [grey * random.between(1, 1.12), grey, grey * random.between(0.8, 1)];
    addStone(mesh, [x, y, soil.heightM(x, y)], size, colour, random.between(0.15, 0.5), random);
  }
}
