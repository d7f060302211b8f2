import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { openStudio } from '../scenes/browser.ts';
import { writePhoto } from '../scenes/photoFile.ts';
import {
  above,
  cotyledons,
  crop,
  fromTheSide,
  light,
  scene,
  soil,
  tape,
  trifoliate,
  weeds,
} from '../scenes/presets.ts';
import type { SceneSpec, SoilSpec, WeedSpec } from '../scenes/spec.ts';
import { paintBoot } from './paintBoot.ts';

/** Kinds of ground without a crop plant, and rows with many doubles. */
export const GROUNDS = ['bare', 'grass', 'weeds', 'gravel', 'boot'] as const;
export type Ground = (typeof GROUNDS)[number];

const SIZE = { widthPx: 2448, heightPx: 1836 };
const TONES: readonly Pick<SoilSpec, 'tone' | 'surface'>[] = [
  { tone: 'brown', surface: 'crumb' },
  { tone: 'pale-dry', surface: 'crust' },
  { tone: 'dark-wet', surface: 'cloddy' },
  { tone: 'red-brown', surface: 'cracked' },
];
const LIGHTS = [
  light({ sunElevationDeg: 55, sunAzimuthDeg: 140 }),
  light({ sky: 'overcast' }),
  light({ sunElevationDeg: 25, sunAzimuthDeg: 220 }),
  light({ sky: 'hazy', sunElevationDeg: 45 }),
];
const NO_CROP = crop({ missShare: 1 });
const GRASS: WeedSpec = weeds({ offRowPerM2: 25, onRowPerM: 6, grassShare: 1 });
const BROADLEAF: WeedSpec = weeds({ offRowPerM2: 25, onRowPerM: 6, grassShare: 0 });

/** Four pictures a kind, two straight down and two from the side. */
function emptyScenes(): readonly SceneSpec[] {
  return GROUNDS.flatMap((ground, g) =>
    TONES.map((tone, k) => {
      const side = k >= 2;
      return scene(
        {
          name: `empty-${ground}-${k + 1}`,
          seed: 40_000 + 10 * g + k,
          camera: side ? fromTheSide(3) : above(2.1, 2),
          reference: tape({ toM: side ? 3.1 : 2.1, unit: 'cm' }),
          stretch: { fromM: 0, toM: side ? 3 : 2 },
        },
        {
          ...SIZE,
          stretchAsked: side ? '0m..3m' : '0m..2m',
          crop: NO_CROP,
          weeds: ground === 'grass' ? GRASS : ground === 'weeds' ? BROADLEAF : weeds(),
          soil: soil({
            ...tone,
            stonesPerM2: ground === 'gravel' ? 450 : 6,
            residuePerM2: ground === 'gravel' ? 2 : 15,
          }),
          light: LIGHTS[k]!,
          askCameraHeight: side,
        },
      );
    }),
  );
}

function doubleScenes(): readonly SceneSpec[] {
  const stages = [cotyledons, undefined, trifoliate, undefined];
  return stages.flatMap((list, k) =>
    [false, true].map((side) =>
      scene(
        {
          name: `doubles-${side ? 'side' : 'down'}-${k + 1}`,
          seed: 41_000 + 2 * k + Number(side),
          camera: side ? fromTheSide(3) : above(2.1, 2),
          reference: tape({ toM: side ? 3.1 : 2.1, unit: 'cm' }),
          stretch: { fromM: 0, toM: side ? 3 : 2 },
        },
        {
          ...SIZE,
          stretchAsked: side ? '0m..3m' : '0m..2m',
          crop: crop({ doubleShare: 0.5, seedSpacingM: 0.15, ...(list === undefined ? {} : { stages: list }) }),
          soil: soil(TONES[k]!),
          light: LIGHTS[k]!,
          askCameraHeight: side,
        },
      ),
    ),
  );
}

/** Renders what is not in the folder yet: some minutes, the first time. Returns the folder. */
export async function makeTestScenes(folder: string): Promise<string> {
  const missing = [...emptyScenes(), ...doubleScenes()].filter(({ name }) => !existsSync(join(folder, `${name}.jpg`)));
  if (missing.length === 0) return folder;
  mkdirSync(folder, { recursive: true });
  const studio = await openStudio();
  for (const spec of missing) {
    const { pixels, truth } = await studio.render(spec);
    const path = join(folder, `${spec.name}.jpg`);
    await writePhoto(path, pixels, spec, 90);
    writeFileSync(join(folder, `${spec.name}.truth.json`), `${JSON.stringify(truth)}\n`);
    if (spec.name.startsWith('empty-boot')) {
      const whole = await sharp(path)
        .keepMetadata()
        .composite([paintBoot(spec)])
        .jpeg({ quality: 90 })
        .toBuffer();
      writeFileSync(path, whole);
    }
    console.error(`rendered ${spec.name}`);
  }
  await studio.close();
  return folder;
}
