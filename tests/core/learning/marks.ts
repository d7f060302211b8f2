import type { Correction } from '../../../src/core/corrections/correction.ts';
import type { Example, MarkLabel } from '../../../src/core/learning/example.ts';
import { FEATURE_NAMES } from '../../../src/core/learning/featureNames.ts';
import type { Head } from '../../../src/core/learning/head.ts';
import { headId } from '../../../src/core/learning/headId.ts';
import type { SeenPhoto } from '../../../src/core/learning/learningSet.ts';
import type { Detection } from '../../../src/core/plants/detection.ts';
import { drawNormal } from '../../../src/core/statistics/draw.ts';
import { type Random, seededRandom } from '../../../src/core/statistics/seededRandom.ts';
import { drawnCount, madeBy } from '../corrections/drawnCount.ts';

export const ABOUT = { trainedAt: '2026-06-16T12:00:00Z', stock: { name: 'drawn', version: '1' } };

/** A photo drawn as text (see `drawnCount`) as a person went through it. */
export function seenPhoto(
  row: string,
  changes: readonly Correction['change'][],
  { checked = true, sha256 = 'aa', margin = 0 } = {},
): SeenPhoto {
  const drawn = drawnCount(row, { margin });
  const stock = drawn.plants.map(
    ({ id, kind, confidence, doubleChance }): Detection => ({
      id,
      kind,
      confidence,
      doubleChance,
      baseStripPx: [0, 0],
      crownStripPx: [0, 0],
      leafAreaMm2: 1000,
      boxStripPx: [0, 0, 1, 1],
      alongSdMm: 4,
    }),
  );
  return {
    result: { ...drawn, photo: { ...drawn.photo, sha256 } },
    stock,
    features: stock.map((_, k) => FEATURE_NAMES.map((_, f) => k + f)),
    corrections: madeBy(checked ? [...changes, { kind: 'check photo' }] : changes),
  };
}

/**
 * Marks that the stock detector all calls a sure plant, three in ten of them weeds; the weeds differ by `apart`
 * standard deviations in each of two features, so 0 is pure noise.
 */
export function weedyPhotos(photos: number, marks: number, apart: number, seed: number): readonly Example[] {
  const random = seededRandom(seed);
  return Array.from({ length: photos }, (_, p) =>
    Array.from({ length: marks }, (_, k): Example => {
      const label: MarkLabel = random() < 0.3 ? 'weed' : 'plant';
      const features = FEATURE_NAMES.map(
        (_, f) => drawNormal(random) + (label === 'weed' && f > 15 && f < 18 ? apart : 0),
      );
      const stock = { kind: 'plant', confidence: 0.9, doubleChance: 0.02 } as const;
      return { photo: `photo ${p + 10}`, markId: `p${k}`, stock, features, label };
    }),
  ).flat();
}

/** A head with drawn weights; `size` 0 gives the stock detector. */
export function drawnHead(size: number, random: Random = seededRandom(5)): Head {
  const draw = (n: number) => Array.from({ length: n }, () => size * drawNormal(random));
  const unnamed: Omit<Head, 'id'> = {
    schema: 'rowledger/head@1',
    ...ABOUT,
    seed: 1,
    photos: 9,
    examples: 90,
    featureNames: [...FEATURE_NAMES],
    labels: ['plant', 'weed', 'double', 'not a plant'],
    mean: draw(FEATURE_NAMES.length),
    sd: draw(FEATURE_NAMES.length).map((v) => 1 + v * v),
    hidden: { weights: FEATURE_NAMES.map(() => draw(5)), bias: draw(5) },
    output: { weights: Array.from({ length: 5 }, () => draw(4)), bias: draw(4) },
  };
  return { ...unnamed, id: headId(unnamed) };
}
