import { addLeaf } from './leaf.ts';
import { addLump, addTube, type Colour, MATERIAL, type MeshBuilder } from './mesh.ts';
import type { Random } from './random.ts';
import type { CropSpec, Stage } from './spec.ts';
import { add, cross, dot, heading, scale, unit, type Vec3 } from './vector.ts';

export type BeanLook = Pick<CropSpec, 'tatter' | 'leafSize' | 'yellowing'>;

const GREEN: Colour = [0.115, 0.235, 0.04];
const YOUNG: Colour = [0.18, 0.32, 0.055];
const YELLOW: Colour = [0.36, 0.38, 0.06];
const STEM: Colour = [0.24, 0.3, 0.11];
const PURPLE: Colour = [0.22, 0.1, 0.11];

const blend = (a: Colour, b: Colour, t: number): Colour => [
  a[0] + (b[0] - a[0]) * t,
  a[1] + (b[1] - a[1]) * t,
  a[2] + (b[2] - a[2]) * t,
];
const vary = (c: Colour, random: Random, amount = 0.18): Colour => {
  const k = 1 + random.normal(0, amount * 0.6);
  return [c[0] * k * (1 + random.normal(0, amount * 0.5)), c[1] * k, c[2] * k * (1 + random.normal(0, amount * 0.5))];
};

/** A smooth stem from under the soil; bends over to its lean. Returns the points from bottom to top. */
function stemPath(base: Vec3, heightM: number, lean: number, leanAzimuth: number, bow: number): Vec3[] {
  const path: Vec3[] = [add(base, [0, 0, -0.008])];
  const steps = 8;
  let at = base;
  path.push(at);
  for (let i = 1; i <= steps; i++) {
    const tilt = lean + bow * (i / steps - 0.5);
    at = add(at, scale(heading(leanAzimuth, Math.PI / 2 - tilt), heightM / steps));
    path.push(at);
  }
  return path;
}

/** A fleshy half seed: an oval lump, flat inside, rounded outside, on a short stalk. */
function addCotyledon(
  mesh: MeshBuilder,
  base: Vec3,
  azimuth: number,
  rise: number,
  lengthM: number,
  colour: Colour,
  id: number,
): void {
  const ahead = heading(azimuth, rise);
  const side = heading(azimuth + Math.PI / 2, 0);
  const up = unit(cross(ahead, side));
  const middle = add(base, scale(ahead, lengthM * 0.52));
  addLump(
    mesh,
    (d) => {
      const thick = d[2] > 0 ? 0.1 : 0.2;
      const bean = 1 - 0.12 * Math.max(0, d[1]) * Math.exp(-((d[0] * 2) ** 2));
      return add(
        middle,
        add(
          add(scale(ahead, d[0] * lengthM * 0.5), scale(side, d[1] * lengthM * 0.28 * bean)),
          scale(up, d[2] * thick * lengthM),
        ),
      );
    },
    (d) => ({ colour: dot(d, [0, 0, 1]) > 0 ? colour : scale(colour, 0.9), surface: [0, 0, MATERIAL.glossy, 0], id }),
    7,
    11,
  );
}

/** Adds one dry-bean seedling at its stem base and returns its height over the soil. */
export function addBean(
  mesh: MeshBuilder,
  base: Vec3,
  stage: Stage,
  look: BeanLook,
  random: Random,
  id: number,
): number {
  const vigour = Math.max(0.6, random.normal(1, 0.17)) * look.leafSize;
  const azimuth = random.between(0, 2 * Math.PI);
  const leanAzimuth = random.between(0, 2 * Math.PI);
  const lean = Math.abs(random.normal(0, random.chance(0.12) ? 0.45 : 0.16));
  const green = blend(GREEN, YELLOW, Math.min(0.85, Math.max(0, look.yellowing + random.normal(0, 0.07))));
  const stemColour = vary(random.chance(0.25) ? blend(STEM, PURPLE, random.between(0.3, 0.8)) : STEM, random);
  const stem = (path: readonly Vec3[], r0: number, r1: number): void =>
    addTube(
      mesh,
      path,
      (t) => r0 + (r1 - r0) * t,
      (t) => ({
        colour: t < 0.15 ? blend(stemColour, [0.4, 0.38, 0.26], 0.5) : stemColour,
        material: MATERIAL.plain,
        id,
      }),
      7,
    );
  const damageOf = (): number => {
    const torn = random.chance(look.tatter)
      ? random.between(0.3, 0.85)
      : random.chance(0.22)
        ? random.between(0.05, 0.25)
        : 0;
    return torn;
  };

  if (stage === 'hook') {
    const rise = random.between(0.008, 0.022) * vigour;
    const reach = random.between(0.01, 0.018);
    const path: Vec3[] = [];
    for (let i = 0; i <= 10; i++) {
      const a = (Math.PI * i) / 10;
      const h = -0.008 + (rise + 0.008) * Math.sin(a * 0.93 + 0.02);
      path.push(add(base, add(scale(heading(azimuth, 0), reach * (0.5 - 0.5 * Math.cos(a))), [0, 0, h])));
    }
    const pale = vary(blend(STEM, [0.5, 0.48, 0.28], random.between(0.2, 0.8)), random);
    addTube(
      mesh,
      path,
      (t) => 0.0019 + 0.0004 * t,
      () => ({ colour: pale, material: MATERIAL.glossy, id }),
      8,
    );
    if (rise > 0.011) {
      const end = add(path[9] as Vec3, [0, 0, 0.004]);
      const colour = vary(blend(YELLOW, [0.45, 0.42, 0.2], random.next() * 0.6), random);
      for (const turn of [-0.35, 0.35]) addCotyledon(mesh, end, azimuth + turn, -1.0, 0.013 * vigour, colour, id);
    }
    return rise;
  }

  const node =
    { cotyledon: 0.028, unifoliate: 0.036, trifoliate1: 0.04, trifoliate2: 0.042 }[stage] * random.between(0.75, 1.3);
  const between =
    { cotyledon: 0.006, unifoliate: 0.024, trifoliate1: 0.034, trifoliate2: 0.04 }[stage] * random.between(0.7, 1.35);
  const path = stemPath(base, node + between, lean, leanAzimuth, random.normal(0, 0.25));
  stem(path, 0.0021 * Math.sqrt(vigour), 0.0012);
  const pathAt = (h: number): Vec3 => {
    const t = 1 + (h / (node + between)) * (path.length - 2);
    const i = Math.min(path.length - 2, Math.floor(t));
    return add(scale(path[i] as Vec3, 1 - (t - i)), scale(path[i + 1] as Vec3, t - i));
  };
  const top = path[path.length - 1] as Vec3;

  // Cotyledons: plump and opening at first, hanging and shrunk later, some fallen.
  const age = { cotyledon: 0, unifoliate: 0.45, trifoliate1: 0.8, trifoliate2: 1 }[stage];
  const seedLength = random.between(0.014, 0.019) * (1 - 0.3 * age);
  const open = stage === 'cotyledon' ? random.between(-0.1, 1.2) : random.between(-0.9, 0.25);
  for (const turn of [0, Math.PI]) {
    if (random.chance(0.12 * age + 0.1 * look.tatter)) continue;
    const colour = vary(
      blend(blend([0.22, 0.3, 0.06], YELLOW, 0.25 + 0.6 * random.next()), [0.33, 0.24, 0.1], 0.4 * age * random.next()),
      random,
    );
    addCotyledon(
      mesh,
      pathAt(node),
      azimuth + Math.PI / 2 + turn + random.normal(0, 0.15),
      open + random.normal(0, 0.12),
      seedLength,
      colour,
      id,
    );
  }

  if (stage === 'cotyledon') {
    const size = random.between(0.006, 0.017) * vigour;
    for (const turn of [0, Math.PI]) {
      addLeaf(mesh, {
        shape: 'heart',
        lengthM: size,
        widthM: size * 0.75,
        base: top,
        azimuth: azimuth + turn,
        rise: random.between(0.5, 1.3),
        bank: 0,
        droop: 0.3,
        fold: random.between(0.5, 1.1),
        wave: 0.05,
        colour: vary(blend(green, YOUNG, 0.6), random),
        damage: 0,
        seed: random.next() * 90,
        id,
      });
    }
    return node + between + size;
  }

  // Two simple heart-shaped leaves, opposite, on petioles.
  const bladeLength = random.between(0.024, 0.042) * vigour * (stage === 'unifoliate' ? 1 : 1.12);
  for (const turn of [0, Math.PI]) {
    if (random.chance(0.22 * look.tatter)) continue;
    const a = azimuth + turn + random.normal(0, 0.2);
    const petiole = random.between(0.006, 0.018) * vigour;
    const rise = random.between(-0.15, 0.65);
    const end = add(top, scale(heading(a, rise), petiole));
    addTube(
      mesh,
      [top, add(scale(add(top, end), 0.5), [0, 0, 0.001]), end],
      () => 0.0008,
      () => ({ colour: stemColour, material: MATERIAL.plain, id }),
      5,
    );
    const k = bladeLength * random.between(0.85, 1.12);
    addLeaf(mesh, {
      shape: 'heart',
      lengthM: k,
      widthM: k * random.between(0.78, 0.98),
      base: end,
      azimuth: a,
      rise: rise - random.between(0.1, 0.6),
      bank: random.normal(0, 0.22),
      droop: random.between(-0.1, 0.9),
      fold: random.normal(0.12, 0.22),
      wave: random.between(0.01, 0.07),
      colour: vary(green, random),
      damage: damageOf(),
      seed: random.next() * 90,
      id,
    });
  }
  let heightM = node + between + 0.01;

  // Trifoliate leaves, alternate, the youngest still small and folded.
  const count = stage === 'unifoliate' ? 1 : stage === 'trifoliate1' ? 2 : 3;
  for (let n = 0; n < count; n++) {
    const youngest = n === count - 1;
    const size = youngest ? random.between(0.005, 0.014) * vigour : random.between(0.024, 0.042) * vigour;
    const a = azimuth + Math.PI / 2 + n * Math.PI + random.normal(0, 0.35);
    const rise = youngest ? random.between(0.9, 1.4) : random.between(0.35, 1.0);
    const petiole = youngest ? 0.004 : random.between(0.018, 0.038) * vigour;
    const start = add(top, [0, 0, 0.004 * n]);
    const end = add(start, scale(heading(a, rise), petiole));
    addTube(
      mesh,
      [start, add(scale(add(start, end), 0.5), [0, 0, 0.0015]), end],
      () => (youngest ? 0.0006 : 0.0008),
      () => ({ colour: stemColour, material: MATERIAL.plain, id }),
      5,
    );
    heightM = Math.max(heightM, end[2] - base[2] + 0.3 * size);
    const tone = vary(youngest ? YOUNG : blend(green, YOUNG, 0.25), random);
    for (const side of [0, 1.35, -1.35]) {
      if (!youngest && random.chance(0.15 * look.tatter)) continue;
      const rachis = side === 0 ? size * 0.22 : 0;
      const from = add(end, scale(heading(a, rise * 0.4), rachis));
      addLeaf(mesh, {
        shape: 'ovate',
        lengthM: size * random.between(0.88, 1.1),
        widthM: size * random.between(0.6, 0.75),
        base: from,
        azimuth: a + side + random.normal(0, 0.15),
        rise: youngest ? rise : random.between(-0.35, 0.35),
        bank: random.normal(0, 0.2),
        droop: random.between(0, 0.8),
        fold: youngest ? random.between(0.7, 1.2) : random.normal(0.15, 0.2),
        wave: random.between(0.01, 0.06),
        colour: tone,
        damage: youngest ? 0 : damageOf(),
        seed: random.next() * 90,
        id,
      });
    }
  }
  return heightM;
}
