import { addLump, addTube, type Colour, MATERIAL, type MeshBuilder } from './mesh.ts';
import type { LaidReference } from './references.ts';
import type { SoilShape } from './soilShape.ts';
import type { FrameSpec, RodSpec } from './spec.ts';
import { add, scale, type Vec3 } from './vector.ts';

const WHITE: Colour = [0.78, 0.78, 0.76];
const PAINTS: Readonly<Record<string, Colour>> = {
  white: WHITE,
  orange: [0.8, 0.2, 0.03],
  aluminium: [0.5, 0.5, 0.51],
  wood: [0.5, 0.34, 0.17],
  red: [0.55, 0.03, 0.025],
  black: [0.02, 0.02, 0.022],
};

/** Height at which a stiff bar between two ground points rests: the two highest supports decide. */
function restOn(soil: SoilShape, a: readonly [number, number], b: readonly [number, number]): (t: number) => number {
  const n = 60;
  const support = Array.from({ length: n + 1 }, (_, i) => {
    const t = i / n;
    return soil.heightM(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, 0.008);
  });
  const half = (from: number, to: number): readonly [number, number] => {
    let best = from;
    for (let i = from; i <= to; i++) if ((support[i] as number) > (support[best] as number)) best = i;
    return [best / n, (support[best] as number) - 0.004];
  };
  const [t0, h0] = half(0, Math.floor(n * 0.4));
  const [t1, h1] = half(Math.ceil(n * 0.6), n);
  return (t) => h0 + ((h1 - h0) * (t - t0)) / (t1 - t0);
}

/** A straight bar of one colour; its ends closed by half balls around a and b where asked. */
function addBar(
  mesh: MeshBuilder,
  a: Vec3,
  b: Vec3,
  radiusM: number,
  colour: Colour,
  rounded: readonly [boolean, boolean],
): void {
  const at = (t: number): Vec3 => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t, a[2] + (b[2] - a[2]) * t];
  const steps = Math.max(2, Math.round(Math.hypot(b[0] - a[0], b[1] - a[1]) / 0.01));
  addTube(
    mesh,
    Array.from({ length: steps + 1 }, (_, i) => at(i / steps)),
    () => radiusM,
    () => ({ colour, material: MATERIAL.glossy, id: 0 }),
    14,
  );
  for (const [i, end] of [a, b].entries()) {
    if (!rounded[i]) continue;
    addLump(
      mesh,
      (d) => add(end, scale(d, radiusM)),
      () => ({ colour, surface: [0, 0, MATERIAL.glossy, 0], id: 0 }),
      6,
      12,
    );
  }
}

export function layRod(plain: MeshBuilder, soil: SoilShape, spec: RodSpec): LaidReference {
  const paint = spec.paint.split('-').map((name) => PAINTS[name] as Colour);
  const band = spec.bandM ?? spec.lengthM;
  const colourAt = (t: number): Colour =>
    paint[Math.floor(Math.min(0.9999, t) * (spec.lengthM / band) + 1e-6) % paint.length] as Colour;
  // The rounded ends belong to the length.
  const rest = restOn(soil, [0, 0], [spec.lengthM, 0]);
  const inset = spec.radiusM / spec.lengthM;
  const at = (t: number): Vec3 => [t * spec.lengthM, 0, rest(t) + spec.radiusM];
  const bands = spec.bandM === null ? 1 : Math.round(spec.lengthM / spec.bandM);
  // a tube for each band, from border to border
  for (let i = 0; i < bands; i++) {
    const [t0, t1] = [Math.max(inset, i / bands), Math.min(1 - inset, (i + 1) / bands)];
    const colour = colourAt((t0 + t1) / 2);
    addBar(plain, at(t0), at(t1), spec.radiusM, colour, [i === 0, i === bands - 1]);
  }
  const [start, end] = [at(0), at(1)];
  const readings = Array.from({ length: bands + 1 }, (_, i) => ({
    at: add(start, scale(add(end, scale(start, -1)), i / bands)),
    readingM: (spec.lengthM * i) / bands,
  }));
  return {
    printed: [],
    truth: {
      kind: 'rod',
      ends: [readings[0] as (typeof readings)[0], readings[bands] as (typeof readings)[0]],
      readings,
      corners: [],
      radiusM: spec.radiusM,
    },
  };
}

/** A rigid flat thing rests on the soil as a plane: the one that fits the ground under it, lifted to the highest contacts less `sunkM`. */
export function restFlat(
  soil: SoilShape,
  points: ReadonlyArray<readonly [number, number]>,
  sunkM: number,
): (x: number, y: number) => number {
  const middle = points.reduce<readonly [number, number]>(
    ([a, b], [x, y]) => [a + x / points.length, b + y / points.length],
    [0, 0],
  );
  let [sxx, sxy, syy, sxz, syz, sz] = [0, 0, 0, 0, 0, 0];
  const heights = points.map(([x, y]) => soil.heightM(x, y, 0.008));
  points.forEach(([px, py], i) => {
    const [x, y, z] = [px - middle[0], py - middle[1], heights[i] as number];
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
    sxz += x * z;
    syz += y * z;
    sz += z / points.length;
  });
  const d = sxx * syy - sxy * sxy;
  const [a, b] = [(sxz * syy - syz * sxy) / d, (syz * sxx - sxz * sxy) / d];
  const over = points.map(([x, y], i) => (heights[i] as number) - (sz + a * (x - middle[0]) + b * (y - middle[1])));
  const lift = Math.max(...over) - sunkM;
  return (x, y) => sz + lift + a * (x - middle[0]) + b * (y - middle[1]);
}

export function layFrame(plain: MeshBuilder, soil: SoilShape, spec: FrameSpec): LaidReference {
  const r = spec.tubeM / 2;
  const [w, h] = [spec.insideAlongM, spec.insideAcrossM];
  const paint = PAINTS[spec.paint] as Colour;
  const posts: ReadonlyArray<readonly [number, number]> = [
    [-r, -r],
    [w + r, -r],
    [w + r, h + r],
    [-r, h + r],
  ];
  const under = posts.flatMap(([x, y], i) => {
    const [x1, y1] = posts[(i + 1) % 4] as readonly [number, number];
    return Array.from({ length: 50 }, (_, k): readonly [number, number] => [
      x + ((x1 - x) * k) / 50,
      y + ((y1 - y) * k) / 50,
    ]);
  });
  const ground = restFlat(soil, under, 0.006);
  posts.forEach((a, i) => {
    const b = posts[(i + 1) % 4] as readonly [number, number];
    addBar(plain, [a[0], a[1], ground(...a) + r], [b[0], b[1], ground(...b) + r], r, paint, [true, true]);
  });
  const inside = (
    [
      [0, 0],
      [w, 0],
      [w, h],
      [0, h],
    ] as const
  ).map(([x, y]): Vec3 => [x, y, ground(x, y) + r]);
  const ends = [
    { at: inside[0] as Vec3, readingM: 0 },
    { at: inside[1] as Vec3, readingM: w },
  ];
  return { printed: [], truth: { kind: 'frame', ends, readings: ends, corners: [{ of: 'inside', at: inside }] } };
}
