import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CountedPlant, CountResult } from '../../src/core/count/countResult.ts';
import { measureRow } from '../../src/core/count/measureRow.ts';
import { applyHomography, type Homography, invertHomography } from '../../src/core/geometry/homography.ts';
import { countInterval } from '../../src/core/plants/countInterval.ts';

const FOLDER = join(import.meta.dirname, '../../sample-images');
const GAP_M = 0.3;
/** Ten feet of row. */
const STRETCH = { fromM: 0, toM: 3.048, lengthM: 3.048 } as const;
const ROW_WIDTH_M = 0.762;

interface TruePlant {
  readonly alongM: number;
  readonly acrossM: number;
  readonly kind: string;
}

interface Truth {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly camera: {
    readonly focalPx: number;
    readonly heightM: number;
    readonly gravityCamera: [number, number, number];
  };
  readonly photoToGround: Homography;
  readonly reference: {
    readonly readings: readonly { readonly xPx: number; readonly yPx: number; readonly readingM: number }[];
  };
  readonly plants: readonly TruePlant[];
}

export interface Sample {
  readonly jpeg: Buffer;
  /** The truth of the picture with five errors put in by hand. */
  readonly result: CountResult;
  /** The same without the errors. */
  readonly truth: CountResult;
}

/**
 * A rendered sample photo with its plane and plants from the scene that was drawn, and five errors that a machine
 * makes: a stone taken for a plant, a weed taken for a plant, two plants under one mark, a plant missed, a mark 6 cm off.
 */
export function correctSample(image = 'side-tape-inch'): Sample {
  const jpeg = readFileSync(join(FOLDER, `${image}.jpg`));
  const told = JSON.parse(readFileSync(join(FOLDER, `${image}.truth.json`), 'utf8')) as Truth;
  const toPhoto = invertHomography(told.photoToGround);
  const row = told.plants
    .filter((p) => p.kind === 'plant' && p.alongM >= STRETCH.fromM && p.alongM <= STRETCH.toM)
    .sort((a, b) => a.alongM - b.alongM);
  const mark = (id: string, alongM: number, acrossM: number, confidence: number, doubleChance = 0.01): CountedPlant => {
    const [xPx, yPx] = applyHomography(toPhoto, [alongM, acrossM]);
    return { id, xPx, yPx, alongM, acrossM, kind: 'plant', inStretch: true, confidence, doubleChance, alongSdMm: 4 };
  };
  const right = row.map((p, i) => mark(`p${i + 1}`, p.alongM, p.acrossM, 0.9 + (i % 7) / 100));

  const closest = row.slice(3, -3).map((p, i) => ({ i: i + 3, apart: row[i + 4]!.alongM - p.alongM }));
  const pair = closest.reduce((a, b) => (b.apart < a.apart ? b : a)).i;
  // A plant whose loss leaves the longest bare run, away from the pair.
  const runs = closest
    .filter(({ i }) => Math.abs(i - pair) > 3)
    .map(({ i }) => ({ i, apart: row[i + 1]!.alongM - row[i - 1]!.alongM }));
  const missed = runs.reduce((a, b) => (b.apart > a.apart ? b : a)).i;
  const moved = closest.find(({ i }) => Math.abs(i - pair) > 3 && Math.abs(i - missed) > 3)!.i;
  const across = row[0]!.acrossM;
  const wrong: CountedPlant[] = right.flatMap((plant, i) => {
    if (i === missed || i === pair + 1) return [];
    if (i === pair) {
      const other = right[pair + 1]!;
      return [mark('double', (plant.alongM! + other.alongM!) / 2, plant.acrossM!, 0.58, 0.4)];
    }
    return i === moved ? [mark('shifted', plant.alongM! + 0.06, plant.acrossM!, 0.7)] : [plant];
  });
  wrong.push(mark('stone', 0.02, across + 0.1, 0.45), mark('weed', 2.98, across - 0.12, 0.5));
  return { jpeg, truth: resultOf(told, right), result: resultOf(told, wrong) };
}

function resultOf(told: Truth, plants: readonly CountedPlant[]): CountResult {
  const count = countInterval(plants, 0.9);
  const readings = told.reference.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM }));
  const [first, last] = [readings[0]!, readings.at(-1)!];
  const sorted = [...plants].sort((a, b) => a.alongM! - b.alongM!);
  return {
    schema: 'rowledger/count@1',
    photo: {
      file: 'ten-feet.jpg',
      sha256: '00',
      widthPx: told.widthPx,
      heightPx: told.heightPx,
      takenAt: null,
      position: null,
    },
    reference: {
      kind: 'tape',
      endsPx: [
        [first.xPx, first.yPx],
        [last.xPx, last.yPx],
      ],
      endsM: [first.readingM, last.readingM],
      photoToGround: told.photoToGround,
      alongErrorMm: 5,
      reason: null,
      cues: [`${readings.length} readings along the tape`],
      readings,
    },
    stretch: STRETCH,
    setting: {
      rowWidthM: ROW_WIDTH_M,
      seedSpacingM: null,
      gapM: GAP_M,
      cues: {
        focalPx: told.camera.focalPx,
        heightM: told.camera.heightM,
        heightSdM: 0.05,
        heightGiven: true,
        gravity: told.camera.gravityCamera,
        rowWidthM: ROW_WIDTH_M,
      },
    },
    detector: { name: 'drawn truth', version: '1' },
    plants: sorted,
    count,
    ...measureRow({
      positionsM: sorted.map((p) => p.alongM!),
      ...STRETCH,
      count,
      rowWidthM: ROW_WIDTH_M,
      seedSpacingM: null,
      gapM: GAP_M,
      lengthErrorShare: 0.005 / STRETCH.lengthM,
    }),
    warnings: [],
    timingsMs: { total: 0 },
  };
}
