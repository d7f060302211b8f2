import { layFrame, layRod, restFlat } from './bars.ts';
import { addStone } from './litter.ts';
import { addSheet, type Colour, finishMesh, MATERIAL, type Mesh, type MeshBuilder, newMesh } from './mesh.ts';
import type { Random } from './random.ts';
import { alongOfReading, layRibbon, type Ribbon, ribbonPoint } from './ribbon.ts';
import type { SoilShape } from './soilShape.ts';
import type { CardsSpec, ReferenceSpec, TapeSpec } from './spec.ts';
import { add, heading, scale, type Vec3 } from './vector.ts';

/** What is printed on a surface; the page draws it on a canvas. */
export type Print =
  | {
      readonly type: 'tape';
      readonly unit: 'in' | 'cm';
      readonly ground: TapeSpec['ground'];
      readonly widthM: number;
      readonly fromM: number;
      readonly toM: number;
      readonly style: number;
      readonly endM: number;
    }
  | { readonly type: 'card'; readonly id: number; readonly widthM: number; readonly heightM: number };

export type PrintedMesh = { readonly mesh: Mesh; readonly print: Print };

export type ReferenceTruth = {
  readonly kind: 'tape' | 'rod' | 'frame' | 'cards' | 'none';
  /** Points of the reference in the ground frame with their readings (metres along it). */
  readonly ends: readonly { readonly at: Vec3; readonly readingM: number }[];
  readonly readings: readonly { readonly at: Vec3; readonly readingM: number }[];
  /** Corners of cards or frames, for those kinds. */
  readonly corners: readonly { readonly of: string; readonly at: readonly Vec3[] }[];
  /** Half the thickness of a round rod, metres. */
  readonly radiusM?: number;
};

export type LaidReference = { readonly printed: readonly PrintedMesh[]; readonly truth: ReferenceTruth };

/** Lays a printed tape and returns its meshes, split in lengths that a texture can hold. */
export function layTape(
  plain: MeshBuilder,
  soil: SoilShape,
  spec: TapeSpec,
  acrossM: number,
  turnRad: number,
  random: Random,
): { printed: PrintedMesh[]; ribbon: Ribbon } {
  const ribbon = layRibbon(
    soil,
    spec.fromM,
    spec.toM,
    acrossM,
    turnRad,
    spec.widthM / 2,
    random.between(0.0005, 0.004),
    random,
  );
  const style = random.whole(0, 7);
  const camber = random.between(0, 0.0022);
  const twist = random.between(0.01, 0.09);
  const phase = random.between(0, 6.28);
  const printed: PrintedMesh[] = [];
  const pieceM = 0.8;
  const first = ribbon.reading[0] as number;
  const last = ribbon.reading[ribbon.reading.length - 1] as number;
  for (let from = first; from < last - 1e-6; from += pieceM) {
    const to = Math.min(last, from + pieceM);
    const mesh = newMesh();
    const rows = Math.max(2, Math.round((to - from) / 0.005) + 1);
    addSheet(
      mesh,
      rows,
      7,
      (r, c) => {
        const p = ribbonPoint(ribbon, alongOfReading(ribbon, from + ((to - from) * r) / (rows - 1)));
        const u = (2 * c) / 6 - 1;
        const tilt = twist * Math.sin(p[0] * 2.3 + phase);
        const off = u * spec.widthM * 0.5;
        return [p[0], p[1] - off * Math.cos(tilt), p[2] + 0.001 - off * Math.sin(tilt) + camber * (u * u - 0.5)];
      },
      (r, c) => ({ colour: [1, 1, 1], surface: [r / (rows - 1), c / 6, MATERIAL.printed, 0], id: 0 }),
    );
    printed.push({
      mesh: finishMesh(mesh),
      print: {
        type: 'tape',
        unit: spec.unit,
        ground: spec.ground,
        widthM: spec.widthM,
        fromM: from,
        toM: to,
        style,
        endM: spec.hook ? 0 : -1,
      },
    });
  }
  if (spec.hook) {
    const p = ribbonPoint(ribbon, 0);
    addBox(
      plain,
      [p[0] + 0.006, p[1], p[2] + 0.0024],
      [0.014, spec.widthM * 1.02, 0.0012],
      turnRad,
      [0.42, 0.42, 0.43],
      MATERIAL.glossy,
    );
    addBox(
      plain,
      [p[0] - 0.0006, p[1], p[2] - 0.002],
      [0.0012, spec.widthM * 1.02, 0.01],
      turnRad,
      [0.42, 0.42, 0.43],
      MATERIAL.glossy,
    );
  }
  if (spec.case) {
    const p = ribbonPoint(ribbon, ribbon.toM);
    addBox(
      plain,
      [p[0] + 0.037, p[1], p[2] + 0.024],
      [0.075, Math.max(0.034, spec.widthM * 1.25), 0.06],
      turnRad,
      random.pick<Colour>([
        [0.75, 0.5, 0.02],
        [0.03, 0.03, 0.035],
        [0.5, 0.04, 0.03],
      ]),
      MATERIAL.glossy,
    );
  }
  const heaps = Math.round((spec.coverShare * (spec.toM - spec.fromM)) / 0.03);
  for (let i = 0; i < heaps; i++) {
    const p = ribbonPoint(ribbon, random.between(ribbon.fromM, ribbon.toM));
    for (let k = random.whole(1, 6); k > 0; k--) {
      const x = p[0] + random.normal(0, 0.012);
      const y = p[1] + random.normal(0, spec.widthM * 0.35);
      addStone(
        plain,
        [x, y, p[2] + 0.002],
        random.between(0.005, 0.02),
        scale(soil.colour(x, y, 0.02), 1.15),
        0.2,
        random,
      );
    }
  }
  return { printed, ribbon };
}

/** An upright box; `turn` about the vertical. */
export function addBox(
  mesh: MeshBuilder,
  middle: Vec3,
  size: Vec3,
  turnRad: number,
  colour: Colour,
  material: number,
): void {
  const ax = scale(heading(turnRad, 0), size[0] / 2);
  const ay = scale(heading(turnRad + Math.PI / 2, 0), size[1] / 2);
  const az: Vec3 = [0, 0, size[2] / 2];
  const faces: ReadonlyArray<readonly [Vec3, Vec3, Vec3]> = [
    [az, ay, ax],
    [scale(az, -1), ax, ay],
    [ax, az, ay],
    [scale(ax, -1), ay, az],
    [ay, ax, az],
    [scale(ay, -1), az, ax],
  ];
  for (const [out, row, column] of faces) {
    addSheet(
      mesh,
      2,
      2,
      (r, c) => add(middle, add(out, add(scale(row, 2 * r - 1), scale(column, 2 * c - 1)))),
      () => ({ colour, surface: [0, 0, material, 0], id: 0 }),
    );
  }
}

/** Side of the printed black square, and the card sizes, metres. */
export const MARKER_SIDE_M = 0.12;
const PAPER = { A4: [0.21, 0.297], Letter: [0.2159, 0.2794] } as const;

function layCards(soil: SoilShape, spec: CardsSpec, random: Random): LaidReference {
  const printed: PrintedMesh[] = [];
  const corners: { of: string; at: Vec3[] }[] = [];
  const ends: { at: Vec3; readingM: number }[] = [];
  const [paperW, paperH] = PAPER[spec.paper];
  for (const id of [0, 1]) {
    const x0 = id * spec.apartM;
    const turn = random.normal(0, 0.12) + random.pick([0, 0, Math.PI / 2, Math.PI]);
    const [ux, uy] = [heading(turn, 0), heading(turn + Math.PI / 2, 0)];
    // The card rests on the highest soil under it, tilted with the ground, one corner a little bent up.
    const spot = (u: number, v: number): readonly [number, number] => {
      const p = add(scale(ux, (u - 0.5) * paperW), scale(uy, (v - 0.5) * paperH));
      return [x0 + p[0], p[1]];
    };
    const under = Array.from({ length: 400 }, (_, i) => spot((i % 20) / 19, Math.floor(i / 20) / 19));
    const flat = restFlat(soil, under, 0.0005);
    const bend = random.between(0, 0.006);
    const z = (u: number, v: number): number =>
      flat(...spot(u, v)) + 0.002 + bend * Math.max(0, u - 0.75) * Math.max(0, v - 0.75) * 40;
    const at = (u: number, v: number): Vec3 => [...spot(u, v), z(u, v)];
    const mesh = newMesh();
    addSheet(
      mesh,
      13,
      13,
      (r, c) => at(1 - c / 12, 1 - r / 12),
      (r, c) => ({ colour: [1, 1, 1], surface: [1 - c / 12, r / 12, MATERIAL.printed, 0], id: 0 }),
    );
    printed.push({ mesh: finishMesh(mesh), print: { type: 'card', id, widthM: paperW, heightM: paperH } });
    const [mu, mv] = [MARKER_SIDE_M / paperW / 2, MARKER_SIDE_M / paperH / 2];
    corners.push({
      of: `marker ${id}`,
      at: [at(0.5 - mu, 0.5 + mv), at(0.5 + mu, 0.5 + mv), at(0.5 + mu, 0.5 - mv), at(0.5 - mu, 0.5 - mv)],
    });
    ends.push({ at: at(0.5, 0.5), readingM: x0 });
  }
  return { printed, truth: { kind: 'cards', ends, readings: ends, corners } };
}

/** Puts the reference of a scene on the soil. */
export function layReference(plain: MeshBuilder, soil: SoilShape, spec: ReferenceSpec, random: Random): LaidReference {
  switch (spec.kind) {
    case 'none':
      return { printed: [], truth: { kind: 'none', ends: [], readings: [], corners: [] } };
    case 'rod':
      return layRod(plain, soil, spec);
    case 'frame':
      return layFrame(plain, soil, spec);
    case 'cards':
      return layCards(soil, spec, random);
    case 'tape': {
      const { printed, ribbon } = layTape(plain, soil, spec, 0, 0, random);
      const every = spec.unit === 'in' ? 0.3048 / 2 : 0.1;
      const readings: { at: Vec3; readingM: number }[] = [];
      for (let k = Math.ceil(spec.fromM / every - 1e-6); k * every <= spec.toM + 1e-6; k++) {
        readings.push({ at: ribbonPoint(ribbon, alongOfReading(ribbon, k * every)), readingM: k * every });
      }
      const first = ribbon.reading[0] as number;
      const last = ribbon.reading[ribbon.reading.length - 1] as number;
      const ends = [
        { at: ribbonPoint(ribbon, ribbon.fromM), readingM: first },
        { at: ribbonPoint(ribbon, ribbon.toM), readingM: last },
      ];
      return { printed, truth: { kind: 'tape', ends, readings, corners: [] } };
    }
  }
}
