import type {
  CameraSpec,
  CropSpec,
  FrameSpec,
  LightSpec,
  ReferenceSpec,
  SceneSpec,
  SoilSpec,
  TapeSpec,
  WeedSpec,
} from './spec.ts';

export const FOOT_M = 0.3048;
export const INCH_M = 0.0254;

export const tape = (changes: Partial<TapeSpec> = {}): TapeSpec => ({
  kind: 'tape',
  unit: 'in',
  ground: 'yellow',
  widthM: 0.025,
  fromM: 0,
  toM: 10 * FOOT_M,
  hook: true,
  case: false,
  ask: 'graduation',
  coverShare: 0.03,
  ...changes,
});

/** Held over the row, long side along it. */
export const fromAbove = (lengthM: number, changes: Partial<CameraSpec> = {}): CameraSpec => {
  const focal35 = changes.focal35 ?? 26;
  const heightM = changes.heightM ?? ((lengthM * 1.1) / 0.8) * (focal35 / 43.27);
  return {
    view: 'down',
    focal35,
    heightM,
    aimAlongM: lengthM / 2,
    aimAcrossM: 0.08,
    standAlongM: lengthM / 2 + 0.04,
    standAcrossM: 0,
    rollDeg: 1.2,
    faces: 1,
    ...changes,
  };
};

/** From beside the row, about 2 m away. */
export const fromTheSide = (lengthM: number, changes: Partial<CameraSpec> = {}): CameraSpec => {
  const faces = changes.faces ?? 1;
  return {
    view: 'side',
    focal35: 26,
    heightM: 1.5,
    aimAlongM: lengthM / 2,
    aimAcrossM: 0.1,
    standAlongM: lengthM / 2 - 0.1,
    standAcrossM: -2 * faces,
    rollDeg: -0.8,
    ...changes,
    faces,
  };
};

/** Standing in the row's direction before the start of the stretch. */
export const downTheRow = (changes: Partial<CameraSpec> = {}): CameraSpec => ({
  view: 'along',
  focal35: 26,
  heightM: 1.55,
  aimAlongM: 0.95,
  aimAcrossM: 0.05,
  standAlongM: -0.85,
  standAcrossM: -0.1,
  rollDeg: 1,
  faces: 1,
  ...changes,
});

export const light = (changes: Partial<LightSpec> = {}): LightSpec => ({
  sky: 'sun',
  sunElevationDeg: 45,
  sunAzimuthDeg: 60,
  photographerShadow: false,
  exposureStops: 0,
  ...changes,
});

export const soil = (changes: Partial<SoilSpec> = {}): SoilSpec => ({
  tone: 'brown',
  surface: 'crumb',
  relief: 0.8,
  residuePerM2: 12,
  stonesPerM2: 4,
  furrowDepthM: 0.008,
  wheelTrack: false,
  ...changes,
});

export const crop = (changes: Partial<CropSpec> = {}): CropSpec => ({
  stages: [
    ['unifoliate', 0.85],
    ['cotyledon', 0.1],
    ['trifoliate1', 0.05],
  ],
  rowWidthM: 30 * INCH_M,
  seedSpacingM: 0.1,
  missShare: 0.12,
  doubleShare: 0.04,
  spacingSdM: 0.014,
  lateralSdM: 0.008,
  bare: [],
  tatter: 0.06,
  leafSize: 1,
  yellowing: 0.08,
  dust: 0.1,
  ...changes,
});

export const weeds = (changes: Partial<WeedSpec> = {}): WeedSpec => ({
  offRowPerM2: 0,
  onRowPerM: 0,
  grassShare: 0.3,
  ...changes,
});

type Needed = {
  name: string;
  seed: number;
  camera: CameraSpec;
  reference: ReferenceSpec;
  stretch: SceneSpec['stretch'];
};

/** A scene from its parts; pictures along the row stand upright, as a phone is held for them. */
export function scene(needed: Needed, changes: Partial<SceneSpec> = {}): SceneSpec {
  const upright = needed.camera.view === 'along';
  const [long, short] = [3264, 2448];
  return {
    widthPx: upright ? short : long,
    heightPx: upright ? long : short,
    light: light(),
    soil: soil(),
    crop: crop(),
    weeds: weeds(),
    extras: [],
    rowAcrossM: 0.085,
    rowTurnDeg: 0.3,
    stretchAsked: null,
    orientation: upright ? 6 : 1,
    takenAt: '2031-06-12T10:24:00-05:00',
    hard: false,
    holdOut: false,
    askCameraHeight: false,
    askGravity: false,
    ...needed,
    ...changes,
  };
}

export const frame = (changes: Partial<FrameSpec>): FrameSpec => ({
  kind: 'frame',
  insideAlongM: 1,
  insideAcrossM: 0.5,
  tubeM: 0.021,
  paint: 'white',
  ask: '1mx0.5m',
  ...changes,
});
/** Over the row for a stretch from 0 to `toM`, the reference a hand below the middle of the picture. */
export const above = (
  shownM: number,
  toM: number,
  changes: Parameters<typeof fromAbove>[1] = {},
): SceneSpec['camera'] =>
  fromAbove(shownM, {
    aimAlongM: toM / 2,
    standAlongM: toM / 2 + 0.03,
    aimAcrossM: 0.07,
    standAcrossM: -0.04,
    ...changes,
  });

export const cotyledons: CropSpec['stages'] = [
  ['cotyledon', 0.8],
  ['hook', 0.15],
  ['unifoliate', 0.05],
];
export const hooks: CropSpec['stages'] = [
  ['hook', 0.75],
  ['cotyledon', 0.25],
];
export const trifoliate: CropSpec['stages'] = [
  ['trifoliate1', 0.8],
  ['unifoliate', 0.2],
];
export const second: CropSpec['stages'] = [
  ['trifoliate2', 0.75],
  ['trifoliate1', 0.2],
  ['unifoliate', 0.05],
];
