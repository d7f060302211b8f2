import { type BuiltScene, inPicture } from './buildScene.ts';
import { gravityInCamera, photoToGround, project } from './camera.ts';
import { bareRuns } from './sowing.ts';
import type { SceneSpec } from './spec.ts';
import type { Vec3 } from './vector.ts';

const round = (v: number, digits: number): number => Number(v.toFixed(digits));

/** What a person would type after `rowledger count PHOTO` for this picture. */
export function countArgs(spec: SceneSpec): string[] {
  const args: string[] = [];
  const r = spec.reference;
  if (r.kind === 'tape') args.push('--reference', r.ask === 'graduation' ? `tape:${r.unit}` : `tape:${r.ask}`);
  if (r.kind === 'rod') args.push('--reference', `rod:${r.ask}`);
  if (r.kind === 'frame') args.push('--reference', `frame:${r.ask}`);
  if (r.kind === 'cards') args.push('--reference', 'cards');
  const inches = spec.crop.rowWidthM / 0.0254;
  const whole = Math.abs(inches - Math.round(inches)) < 0.01;
  args.push('--row-width', whole ? `${Math.round(inches)}in` : `${Math.round(spec.crop.rowWidthM * 100)}cm`);
  args.push('--seed-spacing', `${Math.round(spec.crop.seedSpacingM * 1000)}mm`);
  if (spec.stretchAsked !== null) args.push('--stretch', spec.stretchAsked);
  if (spec.askCameraHeight) args.push('--camera-height', `${(Math.round(spec.camera.heightM * 20) / 20).toFixed(2)}m`);
  return args;
}

export type PlantView = {
  readonly share: number;
  readonly seenPx: number;
  readonly boxPx: readonly [number, number, number, number];
};

/** The truth record of a scene; its fields are described in sample-images/README.md. */
export function truthOf(spec: SceneSpec, built: BuiltScene, views: readonly PlantView[]): Record<string, unknown> {
  const { camera } = built;
  const pixel = (at: Vec3): [number, number] => {
    const p = project(camera, at);
    return [round(p.xPx, 2), round(p.yPx, 2)];
  };
  const { fromM, toM } = spec.stretch;
  const plants = built.plants.flatMap((p, i) => {
    const view = views[i] as PlantView;
    if (!inPicture(camera, p.base) && view.seenPx < 40) return [];
    const [xPx, yPx] = pixel(p.base);
    return [
      {
        alongM: round(p.base[0], 4),
        acrossM: round(p.base[1], 4),
        xPx,
        yPx,
        stage: p.stage,
        kind: p.kind,
        heightM: round(p.heightM, 3),
        visibleShare: round(view.share, 3),
        visiblePx: Math.round(view.seenPx),
        boxPx: view.boxPx.map((v) => Math.round(v)),
        inPicture: inPicture(camera, p.base),
        inStretch: p.base[0] >= fromM && p.base[0] <= toM,
      },
    ];
  });
  const ours = built.plants.filter((p) => p.kind === 'plant').map((p) => p.base[0]);
  const ref = built.reference;
  const gravity = gravityInCamera(camera).map((v) => round(v, 5));
  const leafy = plants.filter((p) => p.kind === 'plant' && p.inStretch);
  const heights = built.plants
    .filter((p) => p.kind === 'plant' && p.base[0] >= fromM && p.base[0] <= toM)
    .map((p) => p.base[2]);
  return {
    schema: 'rowledger/truth@1',
    image: `${spec.name}.jpg`,
    rendered: true,
    holdOut: spec.holdOut,
    seed: spec.seed,
    tags: {
      view: spec.camera.view,
      stage: [...spec.crop.stages].sort((a, b) => b[1] - a[1])[0]?.[0],
      light: spec.light.sky === 'sun' ? `sun ${spec.light.sunElevationDeg} deg` : spec.light.sky,
      soil: spec.soil.tone,
      surface: spec.soil.surface,
      residue: spec.soil.residuePerM2 > 150 ? 'heavy' : spec.soil.residuePerM2 > 25 ? 'some' : 'little',
      weeds:
        spec.weeds.offRowPerM2 + 4 * spec.weeds.onRowPerM > 25
          ? 'many'
          : spec.weeds.offRowPerM2 + spec.weeds.onRowPerM > 1
            ? 'some'
            : 'none',
      reference: ref.kind,
      hard: spec.hard,
      tatter: spec.crop.tatter,
      overlap: round(leafy.filter((p) => p.visibleShare < 0.9).length / Math.max(1, leafy.length), 2),
    },
    countArgs: [...countArgs(spec), ...(spec.askGravity ? ['--gravity', gravity.join(',')] : [])],
    camera: {
      focalPx: round(camera.focalPx, 3),
      focal35mm: spec.camera.focal35,
      cxPx: camera.cxPx,
      cyPx: camera.cyPx,
      positionGroundM: camera.position.map((v) => round(v, 4)),
      gravityCamera: gravity,
      heightM: spec.camera.heightM,
    },
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    photoToGround: photoToGround(camera),
    reference: {
      kind: ref.kind,
      ...(ref.radiusM === undefined ? {} : { radiusM: ref.radiusM }),
      endsPx: ref.ends.map((e) => pixel(e.at)),
      endsM: ref.ends.map((e) => round(e.readingM, 4)),
      endsInPicture: ref.ends.map((e) => inPicture(camera, e.at)),
      readings: ref.readings
        .filter((r) => inPicture(camera, r.at))
        .map((r) => ({
          xPx: pixel(r.at)[0],
          yPx: pixel(r.at)[1],
          readingM: round(r.readingM, 4),
          alongM: round(r.at[0], 4),
          heightM: round(r.at[2], 4),
        })),
      corners: ref.corners.map((c) => ({
        of: c.of,
        px: c.at.map(pixel),
        groundM: c.at.map((p) => p.map((v) => round(v, 4))),
      })),
    },
    stretch: spec.stretch,
    rowWidthM: spec.crop.rowWidthM,
    seedSpacingM: spec.crop.seedSpacingM,
    rowHeightM: heights.length === 0 ? null : round(heights.reduce((a, b) => a + b, 0) / heights.length, 4),
    count: ours.filter((x) => x >= fromM && x <= toM).length,
    plants,
    gaps30cm: bareRuns(ours, fromM, toM, 0.3).map((g) => ({ fromM: round(g.fromM, 4), toM: round(g.toM, 4) })),
  };
}
