import {
  crop,
  downTheRow,
  FOOT_M,
  fromAbove,
  fromTheSide,
  INCH_M,
  light,
  scene,
  soil,
  tape,
  weeds,
} from './presets.ts';
import { type Random, seededRandom } from './random.ts';
import type { CameraSpec, CropSpec, ReferenceSpec, SceneSpec, Stage } from './spec.ts';

const STAGES: readonly Stage[] = ['hook', 'cotyledon', 'unifoliate', 'trifoliate1', 'trifoliate2'];

function randomStages(random: Random): CropSpec['stages'] {
  const main = random.pick<Stage>([
    'cotyledon',
    'unifoliate',
    'unifoliate',
    'unifoliate',
    'trifoliate1',
    'trifoliate2',
  ]);
  const at = STAGES.indexOf(main);
  const before = STAGES[at - 1] as Stage;
  return [
    [main, 0.8],
    [before, random.between(0.05, 0.3)],
    [STAGES[Math.max(0, at - 2)] as Stage, random.between(0, 0.06)],
  ];
}

function randomReference(
  random: Random,
  view: CameraSpec['view'],
  lengthM: number,
): { reference: ReferenceSpec; fromM: number; toM: number; asked: string | null } {
  const kind = random.pick(
    view === 'down' ? ['tape', 'tape', 'tape', 'rod', 'frame', 'cards'] : ['tape', 'tape', 'tape', 'rod', 'cards'],
  );
  const whole = (v: number, unit: 'in' | 'cm'): number =>
    unit === 'in' ? Math.floor(v / FOOT_M) * FOOT_M : Math.floor(v * 10) / 10;
  if (kind === 'rod') {
    const banded = random.chance(0.5);
    const foot = random.chance(0.5);
    const band = foot ? FOOT_M : 0.1;
    const long = foot ? Math.min(6, Math.floor(lengthM / FOOT_M)) * FOOT_M : Math.floor(Math.min(2, lengthM) * 10) / 10;
    const reference: ReferenceSpec = {
      kind: 'rod',
      lengthM: long,
      radiusM: random.between(0.007, 0.016),
      bandM: banded ? band : null,
      paint: banded
        ? random.pick(['red-white', 'black-white'] as const)
        : random.pick(['white', 'orange', 'aluminium', 'wood'] as const),
      ask: banded
        ? `banded:${foot ? '1ft' : '10cm'}`
        : foot
          ? `${Math.round(long / FOOT_M)}ft`
          : `${Math.round(long * 100)}cm`,
    };
    return { reference, fromM: 0, toM: long, asked: null };
  }
  if (kind === 'frame') {
    return {
      reference: {
        kind: 'frame',
        insideAlongM: 1,
        insideAcrossM: 0.5,
        tubeM: random.between(0.012, 0.03),
        paint: random.pick(['white', 'aluminium', 'orange'] as const),
        ask: '1mx0.5m',
      },
      fromM: 0,
      toM: 1,
      asked: null,
    };
  }
  if (kind === 'cards') {
    const apart = lengthM - 0.3;
    return {
      reference: { kind: 'cards', apartM: apart, paper: random.pick(['A4', 'Letter'] as const) },
      fromM: 0,
      toM: apart,
      asked: null,
    };
  }
  const unit = random.pick(['in', 'cm'] as const);
  const byLength = random.chance(0.2);
  const to = whole(lengthM, unit);
  const runsOut = !byLength && random.chance(0.35);
  const reference = tape({
    unit,
    ground: random.pick(['yellow', 'yellow', 'white', 'wood'] as const),
    widthM: random.between(0.012, 0.032),
    fromM: 0,
    toM: runsOut ? to + 0.9 : to + (byLength ? 0 : random.between(0, 0.1)),
    hook: random.chance(0.5),
    case: !runsOut && !byLength && random.chance(0.4),
    ask: byLength ? (unit === 'in' ? `${Math.round(to / FOOT_M)}ft` : `${to.toFixed(1)}m`) : 'graduation',
    coverShare: random.between(0, 0.1),
  });
  const asked = unit === 'in' ? `0ft..${Math.round(to / FOOT_M)}ft` : `0m..${to.toFixed(1)}m`;
  return { reference, fromM: 0, toM: to, asked };
}

/** A scene with every setting drawn at random, for measuring on pictures nobody tuned on. */
export function randomScene(seed: number, size: readonly [number, number] | null): SceneSpec {
  const random = seededRandom(seed).fork('settings');
  const view = random.pick<CameraSpec['view']>(['down', 'down', 'side', 'side', 'along']);
  const focal35 = random.pick([24, 25, 26, 26, 27, 28]);
  const faces = random.chance(0.8) ? 1 : -1;
  const lengthM = view === 'down' ? random.between(1.5, 2.05) : view === 'side' ? (focal35 > 26 ? 2.75 : 3.06) : 2.6;
  const { reference, fromM, toM, asked } = randomReference(random, view, lengthM);
  const shown = view === 'down' ? toM * random.between(1.02, 1.08) + (reference.kind === 'cards' ? 0.26 : 0) : lengthM;
  const middle = (fromM + toM) / 2;
  const across =
    reference.kind === 'frame'
      ? random.between(0.18, 0.32)
      : (reference.kind === 'cards' ? random.between(0.14, 0.2) : random.between(0.06, 0.13)) *
        (random.chance(0.75) ? 1 : -1);
  const rollDeg = random.normal(0, 1.6);
  const camera = {
    down: (): CameraSpec =>
      fromAbove(shown, {
        focal35,
        faces,
        rollDeg,
        aimAlongM: middle + random.normal(0, 0.02),
        aimAcrossM: across * 0.7 + random.normal(0, 0.03),
        standAlongM: middle + random.normal(0, 0.05),
        standAcrossM: across * 0.7 - faces * random.between(0.02, 0.22),
      }),
    side: (): CameraSpec =>
      fromTheSide(lengthM, {
        focal35,
        faces,
        rollDeg,
        heightM: random.between(1.35, 1.65),
        standAcrossM: -faces * random.between(1.9, 2.15),
        aimAlongM: middle + random.normal(0, 0.03),
        standAlongM: middle + random.normal(0, 0.15),
        aimAcrossM: random.between(0, 0.2) * faces,
      }),
    along: (): CameraSpec =>
      downTheRow({
        focal35,
        rollDeg,
        heightM: random.between(1.4, 1.7),
        standAcrossM: random.normal(0, 0.12),
        aimAlongM: random.between(0.8, 1.1),
        standAlongM: random.between(-1.05, -0.7),
      }),
  }[view]();
  const stages = randomStages(random);
  const seedSpacingM = random.pick([0.051, 0.064, 0.076, 0.089, 0.102, 0.127, 0.152]);
  const gapFrom = random.between(fromM, Math.max(fromM, toM - 0.7));
  const stretchTo = view === 'along' ? Math.min(toM, 2.5) : toM;
  const stretchAsked =
    reference.kind === 'tape' && (reference.toM > toM + 0.5 || view === 'along')
      ? view === 'along' && asked !== null
        ? asked.replace(/\.\..*/, reference.unit === 'in' ? '..8ft' : '..2.4m')
        : asked
      : null;
  const stretch =
    stretchAsked === null
      ? { fromM, toM: reference.kind === 'tape' ? reference.toM : toM }
      : {
          fromM,
          toM: view === 'along' && reference.kind === 'tape' ? (reference.unit === 'in' ? 8 * FOOT_M : 2.4) : stretchTo,
        };
  const many = random.chance(0.25);
  const made = scene(
    { name: `random-${seed}`, seed, camera, reference, stretch },
    {
      light: light({
        sky: random.pick(['sun', 'sun', 'sun', 'hazy', 'overcast', 'overcast'] as const),
        sunElevationDeg: Math.round(random.between(16, 72)),
        sunAzimuthDeg: Math.round(random.between(0, 360)),
        photographerShadow: random.chance(0.12),
        exposureStops: random.normal(0, 0.3),
      }),
      soil: soil({
        tone: random.pick(['dark-wet', 'brown', 'brown', 'red-brown', 'grey', 'pale-dry'] as const),
        surface: random.pick(['crumb', 'crust', 'cracked', 'cloddy'] as const),
        relief: random.between(0.5, 1.25),
        residuePerM2: random.pick([0, 8, 25, 60, 180]) * random.between(0.6, 1.4),
        stonesPerM2: random.pick([0, 3, 12, 30]),
        furrowDepthM: random.pick([0, 0.006, 0.012]),
        wheelTrack: random.chance(0.3),
      }),
      crop: crop({
        stages,
        seedSpacingM,
        rowWidthM: random.pick([15 * INCH_M, 20 * INCH_M, 22 * INCH_M, 30 * INCH_M, 30 * INCH_M, 0.5, 0.75]),
        missShare: random.between(0.03, 0.3),
        doubleShare: random.between(0, 0.09),
        spacingSdM: random.between(0.006, 0.022),
        lateralSdM: random.between(0.004, 0.011),
        bare: random.chance(0.3) ? [[gapFrom, gapFrom + random.between(0.3, 0.7)]] : [],
        tatter: random.chance(0.2) ? random.between(0.3, 0.8) : random.between(0, 0.12),
        leafSize: random.between(0.8, 1.15),
        yellowing: random.between(0, 0.4),
        dust: random.pick([0, 0.1, 0.3]),
      }),
      weeds: weeds({
        offRowPerM2: random.pick([0, 0, 3, 10]) * (many ? 4 : 1),
        onRowPerM: random.pick([0, 0, 1, 3]) * (many ? 2 : 1),
        grassShare: random.next(),
      }),
      rowAcrossM: across,
      rowTurnDeg: random.normal(0, 0.5),
      stretchAsked,
      hard: many,
      askCameraHeight: random.chance(0.4),
      askGravity: random.chance(0.3),
      takenAt: `2031-06-${10 + random.whole(0, 15)}T${random.whole(10, 18)}:${random.whole(10, 59)}:00-05:00`,
      orientation: view === 'along' ? 6 : random.pick([1, 1, 1, 3, 6] as const),
      holdOut: true,
    },
  );
  if (size === null) return made;
  const [long, short] = [Math.max(...size), Math.min(...size)];
  return { ...made, widthPx: view === 'along' ? short : long, heightPx: view === 'along' ? long : short };
}
