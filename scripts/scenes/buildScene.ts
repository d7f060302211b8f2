import { addBean } from './bean.ts';
import { type Camera, groundAt, makeCamera, project } from './camera.ts';
import { addStones, addStraw, type Region } from './litter.ts';
import { addTube, finishMesh, MATERIAL, type Mesh, newMesh } from './mesh.ts';
import { seededRandom } from './random.ts';
import { layReference, layTape, type PrintedMesh, type ReferenceTruth } from './references.ts';
import { makeSoilShape, type SoilShape } from './soilShape.ts';
import { type Seedling, sowRow } from './sowing.ts';
import type { SceneSpec, Stage } from './spec.ts';
import type { Vec3 } from './vector.ts';
import { addWeed } from './weeds.ts';

export type PlacedPlant = {
  readonly id: number;
  readonly kind: 'plant' | 'weed' | 'neighbour';
  readonly stage: Stage | 'broadleaf' | 'grass';
  readonly base: Vec3;
  readonly heightM: number;
  /** Its run of indices in the things mesh. */
  readonly firstIndex: number;
  readonly indexCount: number;
  readonly firstVertex: number;
  readonly vertexCount: number;
};

export type BuiltScene = {
  readonly camera: Camera;
  readonly soil: SoilShape;
  /** Plants, references and litter. */
  readonly things: Mesh;
  /** Crumbs too small to shade the sky. */
  readonly crumbs: Mesh;
  readonly printed: readonly PrintedMesh[];
  readonly plants: readonly PlacedPlant[];
  readonly reference: ReferenceTruth;
  readonly near: Region;
  readonly visible: Region;
};

/** The ground the picture shows, from its border, no farther than `farM` from the camera. */
function visibleRegion(camera: Camera, farM: number): Region {
  let [x0, x1, y0, y1] = [1e9, -1e9, 1e9, -1e9];
  const { widthPx: w, heightPx: h } = camera;
  for (let i = 0; i <= 20; i++) {
    for (const [x, y] of [
      [(w * i) / 20, 0],
      [(w * i) / 20, h],
      [0, (h * i) / 20],
      [w, (h * i) / 20],
    ] as const) {
      const p = groundAt(camera, x, y);
      if (p === null || Math.hypot(p[0] - camera.position[0], p[1] - camera.position[1]) > farM) continue;
      x0 = Math.min(x0, p[0]);
      x1 = Math.max(x1, p[0]);
      y0 = Math.min(y0, p[1]);
      y1 = Math.max(y1, p[1]);
    }
  }
  return { fromAlongM: x0 - 0.15, toAlongM: x1 + 0.15, fromAcrossM: y0 - 0.15, toAcrossM: y1 + 0.15 };
}

/** The same soil with its mean height near the stretch taken to zero, calm under the reference. */
function levelSoil(raw: SoilShape, spec: SceneSpec): SoilShape {
  const { fromM, toM } = spec.stretch;
  const pressed = spec.reference.kind === 'tape' ? 0.02 : spec.reference.kind === 'cards' ? 0.1 : 0;
  const low = spec.reference.kind === 'frame' ? 0 : Math.min(-0.02, spec.rowAcrossM - 0.06);
  const high = spec.reference.kind === 'frame' ? 0.5 : Math.max(0.02, spec.rowAcrossM + 0.06);
  const calm = (y: number): number => (pressed === 0 ? 1 : 1 - 0.65 * Math.exp(-((y / pressed) ** 4)));
  const base = (x: number, y: number, detailM?: number): number => raw.heightM(x, y, detailM) * calm(y);
  let sum = 0;
  for (let i = 0; i < 160; i++)
    for (let j = 0; j < 24; j++) sum += base(fromM + ((toM - fromM) * i) / 159, low + ((high - low) * j) / 23);
  const mean = sum / (160 * 24);
  return { colour: raw.colour, heightM: (x, y, detailM) => base(x, y, detailM) - mean };
}

/** Everything in the scene as triangles, with where each plant truly stands. Same spec, same scene. */
export function buildScene(spec: SceneSpec): BuiltScene {
  const root = seededRandom(spec.seed);
  const camera = makeCamera(spec.camera, spec.widthPx, spec.heightPx);
  const turn = Math.tan((spec.rowTurnDeg * Math.PI) / 180);
  const rowMiddle = (spec.stretch.fromM + spec.stretch.toM) / 2;
  const rowAcross = (along: number): number => spec.rowAcrossM + (along - rowMiddle) * turn;
  const soil = levelSoil(
    makeSoilShape(spec.soil, rowAcross, spec.crop.rowWidthM, root.fork('soil').whole(1, 1e6)),
    spec,
  );
  const visible = visibleRegion(camera, 9);
  const near = visibleRegion(camera, 4.5);
  const mesh = newMesh();
  const plants: PlacedPlant[] = [];

  const place = (
    kind: PlacedPlant['kind'],
    stage: PlacedPlant['stage'],
    x: number,
    y: number,
    build: (base: Vec3, id: number) => number,
  ): void => {
    const id = plants.length + 1;
    const base: Vec3 = [x, y, soil.heightM(x, y)];
    const firstIndex = mesh.indices.length;
    const firstVertex = mesh.positions.length / 3;
    mesh.coarse = Math.hypot(x - camera.position[0], y - camera.position[1]) > 3.4;
    const heightM = build(base, id);
    mesh.coarse = false;
    plants.push({
      id,
      kind,
      stage,
      base,
      heightM,
      firstIndex,
      indexCount: mesh.indices.length - firstIndex,
      firstVertex,
      vertexCount: mesh.positions.length / 3 - firstVertex,
    });
  };

  // Crop rows: the assessed one, then every neighbour that the picture shows.
  const sowing = root.fork('sowing');
  const growth = root.fork('growth');
  const grow = (kind: 'plant' | 'neighbour', s: Seedling): void =>
    place(kind, s.stage, s.alongM, s.acrossM, (base, id) => addBean(mesh, base, s.stage, spec.crop, growth, id));
  for (const s of sowRow(spec.crop, visible.fromAlongM, visible.toAlongM, rowAcross, spec.crop.bare, sowing))
    grow('plant', s);
  const width = spec.crop.rowWidthM;
  for (
    let k = Math.ceil((visible.fromAcrossM - rowAcross(rowMiddle)) / width);
    k * width + rowAcross(rowMiddle) < visible.toAcrossM;
    k++
  ) {
    if (k === 0) continue;
    const side = sowRow(spec.crop, visible.fromAlongM, visible.toAlongM, (x) => rowAcross(x) + k * width, [], sowing);
    for (const s of side) grow('neighbour', s);
  }

  const weeds = root.fork('weeds');
  const weed = (x: number, y: number): void => {
    const kind = weeds.chance(spec.weeds.grassShare) ? 'grass' : 'broadleaf';
    place('weed', kind, x, y, (base, id) => addWeed(mesh, base, kind, weeds, id));
  };
  const area = (near.toAlongM - near.fromAlongM) * (near.toAcrossM - near.fromAcrossM);
  for (let i = 0; i < Math.min(900, spec.weeds.offRowPerM2 * area); i++)
    weed(weeds.between(near.fromAlongM, near.toAlongM), weeds.between(near.fromAcrossM, near.toAcrossM));
  for (let i = 0; i < spec.weeds.onRowPerM * (near.toAlongM - near.fromAlongM); i++) {
    const x = weeds.between(near.fromAlongM, near.toAlongM);
    weed(x, rowAcross(x) + weeds.normal(0, 0.025));
  }

  const reference = layReference(mesh, soil, spec.reference, root.fork('reference'));
  const printed = [...reference.printed];
  const extra = root.fork('extras');
  for (const item of spec.extras) {
    if (item === 'second-tape') {
      const unit = spec.reference.kind === 'tape' && spec.reference.unit === 'in' ? 'cm' : 'in';
      const second = {
        kind: 'tape',
        unit,
        ground: 'white',
        widthM: 0.016,
        fromM: extra.between(0.1, 0.4),
        toM: extra.between(1.7, 2.6),
        hook: false,
        case: false,
        ask: 'graduation',
        coverShare: 0.02,
      } as const;
      printed.push(...layTape(mesh, soil, second, spec.rowAcrossM + 0.26, extra.between(-0.02, 0.02), extra).printed);
    } else {
      const path: Vec3[] = [];
      for (let x = visible.fromAlongM; x < visible.toAlongM; x += 0.02) {
        const y = -0.05 + 0.035 * Math.sin(x * 2.1) + 0.02 * Math.sin(x * 5.3 + 1);
        path.push([x, y, soil.heightM(x, y, 0.02) + 0.009]);
      }
      addTube(
        mesh,
        path,
        () => 0.0095,
        () => ({ colour: [0.03, 0.16, 0.05], material: MATERIAL.glossy, id: 0 }),
        12,
      );
    }
  }
  const crumbs = newMesh();
  addStones(mesh, crumbs, soil, spec.soil, near, root.fork('stones'));
  addStraw(mesh, soil, near, spec.soil.residuePerM2, root.fork('straw'));
  return {
    camera,
    soil,
    things: finishMesh(mesh),
    crumbs: finishMesh(crumbs),
    printed,
    plants,
    reference: reference.truth,
    near,
    visible,
  };
}

/** Whether a ground-frame point falls inside the picture. */
export function inPicture(camera: Camera, point: Vec3): boolean {
  const p = project(camera, point);
  return p.depthM > 0 && p.xPx >= 0 && p.yPx >= 0 && p.xPx <= camera.widthPx - 1 && p.yPx <= camera.heightPx - 1;
}
