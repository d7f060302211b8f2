/** The scenes: what lies there, how old the beans are, how hard it is. Lengths are metres. */

export interface SceneSpec {
  readonly name: string;
  readonly seed: number;
  readonly view: 'down' | 'side' | 'along';
  readonly fromSide?: 1 | -1;
  /** Range of ages: 0 hook, 0.3 cotyledon, 1 unifoliate, 2 first trifoliate leaf open. */
  readonly age: readonly [number, number];
  readonly soil: 'brown' | 'dark' | 'red' | 'pale' | 'grey';
  readonly surface: 'crumb' | 'cloddy' | 'crust';
  readonly light: {
    readonly kind: 'sun' | 'hazy' | 'overcast';
    readonly elevationDeg: number;
    readonly azimuthDeg: number;
  };
  readonly weedsPerM2: number;
  readonly strawPerM2: number;
  readonly clodsPerM2: number;
  /** Exponent of the clods' sizes: small means more big ones. */
  readonly clodTail: number;
  readonly reference:
    | { readonly kind: 'tape'; readonly graduations: 'in' | 'cm'; readonly lengthM: number }
    | { readonly kind: 'cards'; readonly lengthM: number }
    | { readonly kind: 'rod'; readonly lengthM: number; readonly bandM: number; readonly radiusM: number }
    | { readonly kind: 'frame'; readonly alongM: number; readonly acrossM: number };
  readonly stretchM: number;
  readonly widthM?: number;
  readonly rowY: number;
  readonly rowWidthM: number;
  readonly spacingM: number;
  readonly spacingCv: number;
  readonly missShare: number;
  readonly doubleShare: number;
  readonly bare?: readonly (readonly [number, number])[];
  readonly eaten: number;
  readonly ownShadow?: boolean;
  readonly exposureEv?: number;
  readonly hard: boolean;
  readonly countArgs: readonly string[];
}

const FT = 0.3048;
const UNIFOLIATE = [0.8, 1.3] as const;
const OLDER = [1.2, 1.8] as const;
const FIRST_TRIFOLIATE = [1.6, 2.1] as const;
const COTYLEDON = [0.15, 0.6] as const;

const usual = {
  soil: 'brown',
  surface: 'crumb',
  light: { kind: 'sun', elevationDeg: 52, azimuthDeg: 140 },
  weedsPerM2: 3,
  strawPerM2: 12,
  clodsPerM2: 3600,
  clodTail: 2.0,
  rowY: 0.11,
  rowWidthM: 0.762,
  spacingM: 0.1,
  spacingCv: 0.28,
  missShare: 0.1,
  doubleShare: 0.02,
  eaten: 0.25,
  hard: false,
} as const;

export const inchTape = (feet: number) =>
  ({
    reference: { kind: 'tape', graduations: 'in', lengthM: feet * FT + 0.06 },
    stretchM: feet * FT,
    countArgs: ['--reference', 'tape:in', '--stretch', `0ft..${feet}ft`],
  }) as const;
export const cmTape = (metres: number) =>
  ({
    reference: { kind: 'tape', graduations: 'cm', lengthM: metres + 0.06 },
    stretchM: metres,
    countArgs: ['--reference', 'tape:cm', '--stretch', `0m..${metres}m`],
  }) as const;
export const cards = (metres: number) =>
  ({
    reference: { kind: 'cards', lengthM: metres },
    rowY: 0.21,
    stretchM: metres,
    countArgs: ['--reference', 'cards'],
  }) as const;
export const rod = (bands: number, bandM: number, band: string) =>
  ({
    reference: { kind: 'rod', lengthM: bands * bandM, bandM, radiusM: 0.0125 },
    stretchM: bands * bandM,
    countArgs: ['--reference', `rod:banded:${band}`],
  }) as const;
export const frame = {
  reference: { kind: 'frame', alongM: 1, acrossM: 0.5 },
  stretchM: 1,
  widthM: 1.35,
  rowY: 0.25,
  countArgs: ['--reference', 'frame:1mx0.5m'],
} as const;

type Rest = Partial<SceneSpec> &
  Pick<SceneSpec, 'name' | 'seed' | 'view' | 'age' | 'reference' | 'stretchM' | 'countArgs'>;

/** A scene whose unsaid things are as usual. */
export function sceneOf(said: Rest): SceneSpec {
  return { ...usual, ...said };
}

/** In the order in which they are best rendered: two of each stratum first. */
export const SCENES: readonly SceneSpec[] = (
  [
    { name: 'pt-down-tape-in', seed: 11, view: 'down', age: UNIFOLIATE, ...inchTape(6) },
    {
      name: 'pt-down-cards',
      seed: 12,
      view: 'down',
      age: OLDER,
      ...cards(1.7),
      soil: 'dark',
      surface: 'cloddy',
      spacingM: 0.08,
      light: { kind: 'hazy', elevationDeg: 50, azimuthDeg: 250 },
    },
    { name: 'pt-side-tape-in', seed: 13, view: 'side', age: UNIFOLIATE, ...inchTape(10), rowY: 0.12, soil: 'brown' },
    {
      name: 'pt-side-cards',
      seed: 14,
      view: 'side',
      age: OLDER,
      ...cards(2.8),
      soil: 'pale',
      surface: 'crust',
      fromSide: 1,
      light: { kind: 'hazy', elevationDeg: 40, azimuthDeg: 60 },
    },
    {
      name: 'pt-along-tape-cm',
      seed: 15,
      view: 'along',
      age: UNIFOLIATE,
      ...cmTape(2.5),
      rowY: 0.13,
      soil: 'grey',
      light: { kind: 'sun', elevationDeg: 48, azimuthDeg: 220 },
    },
    {
      name: 'pt-along-cards',
      seed: 16,
      view: 'along',
      age: OLDER,
      ...cards(2.2),
      spacingM: 0.11,
      light: { kind: 'overcast', elevationDeg: 90, azimuthDeg: 0 },
    },
    {
      name: 'pt-hard-weeds',
      seed: 17,
      view: 'down',
      age: UNIFOLIATE,
      ...cmTape(2),
      weedsPerM2: 45,
      hard: true,
      light: { kind: 'hazy', elevationDeg: 50, azimuthDeg: 20 },
    },
    {
      name: 'pt-hard-residue-shadow',
      seed: 18,
      view: 'down',
      age: UNIFOLIATE,
      ...inchTape(6),
      strawPerM2: 260,
      hard: true,
      ownShadow: true,
      light: { kind: 'sun', elevationDeg: 24, azimuthDeg: 200 },
    },
    {
      name: 'pt-hard-doubles',
      seed: 19,
      view: 'down',
      age: OLDER,
      ...inchTape(6),
      spacingM: 0.09,
      doubleShare: 0.25,
      hard: true,
      soil: 'red',
    },
    {
      name: 'pt-down-cotyledon',
      seed: 20,
      view: 'down',
      age: COTYLEDON,
      ...cmTape(1.8),
      spacingM: 0.07,
      soil: 'pale',
      surface: 'crust',
    },
    {
      name: 'pt-down-frame',
      seed: 21,
      view: 'down',
      age: UNIFOLIATE,
      ...frame,
      spacingM: 0.08,
      soil: 'grey',
      light: { kind: 'hazy', elevationDeg: 55, azimuthDeg: 30 },
    },
    {
      name: 'pt-side-rod',
      seed: 22,
      view: 'side',
      age: UNIFOLIATE,
      ...rod(6, FT, '1ft'),
      rowY: 0.14,
      soil: 'red',
      light: { kind: 'sun', elevationDeg: 35, azimuthDeg: 300 },
    },
    {
      name: 'pt-side-weeds-residue',
      seed: 23,
      view: 'side',
      age: OLDER,
      ...inchTape(10),
      rowY: 0.14,
      weedsPerM2: 25,
      strawPerM2: 140,
      hard: true,
      surface: 'cloddy',
      fromSide: 1,
      light: { kind: 'sun', elevationDeg: 60, azimuthDeg: 100 },
    },
    {
      name: 'pt-down-trifoliate',
      seed: 24,
      view: 'down',
      age: FIRST_TRIFOLIATE,
      ...cmTape(2),
      spacingM: 0.12,
      soil: 'brown',
      light: { kind: 'sun', elevationDeg: 62, azimuthDeg: 330 },
    },
    {
      name: 'pt-side-gap',
      seed: 25,
      view: 'side',
      age: UNIFOLIATE,
      ...cmTape(3),
      rowY: 0.12,
      bare: [[1.1, 1.65]],
      soil: 'dark',
      light: { kind: 'overcast', elevationDeg: 90, azimuthDeg: 0 },
    },
    {
      name: 'pt-along-tape-in-low-sun',
      seed: 26,
      view: 'along',
      age: OLDER,
      ...inchTape(8),
      rowY: 0.13,
      hard: true,
      weedsPerM2: 12,
      light: { kind: 'sun', elevationDeg: 18, azimuthDeg: 80 },
    },
  ] satisfies Rest[]
).map(sceneOf);
