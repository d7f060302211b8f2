import type { Correction, PhotoChange } from '../../src/core/corrections/correction.ts';
import type { CountedPlant, CountResult } from '../../src/core/count/countResult.ts';
import type { MarkCall, MarkLabel } from '../../src/core/learning/example.ts';
import { FEATURE_NAMES } from '../../src/core/learning/featureNames.ts';
import type { SeenPhoto } from '../../src/core/learning/learningSet.ts';
import { countInterval } from '../../src/core/plants/countInterval.ts';
import type { Detection } from '../../src/core/plants/detection.ts';
import { drawNormal, drawPoisson } from '../../src/core/statistics/draw.ts';
import { type Random, seededRandom } from '../../src/core/statistics/seededRandom.ts';

type Feature = (typeof FEATURE_NAMES)[number];

/** One sort of thing that gets a mark on a farm. All numbers are invented. */
export interface MarkSort {
  readonly label: MarkLabel;
  readonly perPhoto: number;
  /** Mean of the stock detector's log odds of a crop plant, and their standard deviation. */
  readonly logOdds: readonly [number, number];
  /** How it differs from plants and weeds that the stock detector knows, in standard deviations of each feature. */
  readonly differs: Partial<Readonly<Record<Feature, number>>>;
}

/*
 * Plants and known weeds: the stock detector is calibrated on them. Log odds of two normal sorts of one variance v that
 * lie v apart, set off by the logarithm of how often each comes (17 to 4), are the true log odds.
 */
const VARIANCE = 8;
const OFTEN = Math.log(17 / 4);
/** Of the stock chance of a crop plant, the share that is a double: as often as they come. */
const DOUBLE_SHARE = 1 / 17;

const KNOWN: readonly MarkSort[] = [
  { label: 'plant', perPhoto: 16, logOdds: [OFTEN + VARIANCE / 2, Math.sqrt(VARIANCE)], differs: {} },
  { label: 'double', perPhoto: 1, logOdds: [OFTEN + VARIANCE / 2, Math.sqrt(VARIANCE)], differs: {} },
  { label: 'weed', perPhoto: 4, logOdds: [OFTEN - VARIANCE / 2, Math.sqrt(VARIANCE)], differs: {} },
];

/**
 * What the stock detector already made of the features: they shift with its own chance of "no crop plant", so that among
 * known marks they say nothing beyond it. Only the strange sorts can be learned.
 */
const USED_BY_STOCK: MarkSort['differs'] = {
  leafAreaOverPlants: -1.5,
  leafArea: -1.5,
  boxSize: -1.3,
  offRow: 1.5,
  crownFromBase: -0.7,
};

export const FARMS: Readonly<Record<string, readonly MarkSort[]>> = {
  'nothing to learn: the stock detector is calibrated here': KNOWN,
  'a weed that looks like a bean to the stock detector': [
    ...KNOWN,
    {
      label: 'weed',
      perPhoto: 3,
      logOdds: [1.2, 1.2],
      differs: {
        greenOverSoil: -1.4,
        redShare: 1.2,
        elongation: 1,
        offRow: 0.9,
        leafAreaOverPlants: -0.8,
        roughness: 0.8,
      },
    },
  ],
  'greenish stones that get a mark': [
    ...KNOWN,
    {
      label: 'not a plant',
      perPhoto: 2,
      logOdds: [0.8, 1.2],
      differs: { greenOverSoil: -2, greenSpread: -1.2, brightOverSoil: 1.5, roughness: -1, elongation: -0.6 },
    },
  ],
};

/** Features that all marks of one photo share a part of: light, camera, stage. */
const SHARED: ReadonlySet<Feature> = new Set<Feature>([
  'viewTangent',
  'brightOverSoil',
  'greenOverSoil',
  'redShare',
  'greenShare',
  'leafArea',
  'boxSize',
]);
/** Share of the variance of such a feature that is the photo's own. */
const SHARED_SHARE = 0.4;
/** A person takes so many marks for something else. */
const SLIP_SHARE = 0.01;

/** Photos of one farm, simulated as marks and a person's corrections; no picture is made. */
export function simulatedPhotos(sorts: readonly MarkSort[], count: number, seed: number): readonly SeenPhoto[] {
  const random = seededRandom(seed);
  return Array.from({ length: count }, (_, k) =>
    simulatedPhoto(sorts, `${seed}-${String(k).padStart(3, '0')}`, random),
  );
}

function simulatedPhoto(sorts: readonly MarkSort[], name: string, random: Random): SeenPhoto {
  const shared = FEATURE_NAMES.map(() => drawNormal(random));
  const marks = sorts.flatMap((sort) =>
    Array.from({ length: drawPoisson(sort.perPhoto, random) }, () => ({ sort, call: stockCall(sort, random) })),
  );
  const stock = marks.map(
    ({ call }, k): Detection => ({
      id: `p${k + 1}`,
      ...call,
      baseStripPx: [10 * k, 0],
      crownStripPx: [10 * k, 0],
      leafAreaMm2: 1000,
      boxStripPx: [10 * k, 0, 10 * k + 5, 5],
      alongSdMm: 4,
    }),
  );
  const features = marks.map(({ sort, call }) => simulatedFeatures(sort, call, shared, random));
  const corrections = marks.flatMap(({ sort, call }, k): Correction[] => {
    const change = correctionOf(`p${k + 1}`, call, random() < SLIP_SHARE ? slip(sort.label) : sort.label);
    return change === null ? [] : [{ id: `k${k}`, at: '2026-06-16T15:00:00Z', by: 'Ann', change }];
  });
  const checked: Correction = { id: 'checked', at: '2026-06-16T15:05:00Z', by: 'Ann', change: { kind: 'check photo' } };
  return { result: countOf(name, stock), stock, features, corrections: [...corrections, checked] };
}

function stockCall({ logOdds }: MarkSort, random: Random): MarkCall {
  const chance = 1 / (1 + Math.exp(-logOdds[0] - logOdds[1] * drawNormal(random)));
  const kind = chance >= 0.5 ? 'plant' : 'weed';
  return { kind, confidence: chance * (1 - DOUBLE_SHARE), doubleChance: chance * DOUBLE_SHARE };
}

function simulatedFeatures(
  { differs }: MarkSort,
  call: MarkCall,
  shared: readonly number[],
  random: Random,
): readonly number[] {
  return FEATURE_NAMES.map((name, k) => {
    if (name === 'confidence') return call.confidence;
    if (name === 'doubleChance') return call.doubleChance;
    if (name === 'calledPlant') return call.kind === 'plant' ? 1 : 0;
    if (name === 'calledWeed') return call.kind === 'weed' ? 1 : 0;
    if (name === 'rowKnown') return 1;
    const own = drawNormal(random);
    const noise = SHARED.has(name) ? Math.sqrt(SHARED_SHARE) * shared[k]! + Math.sqrt(1 - SHARED_SHARE) * own : own;
    const known = (USED_BY_STOCK[name] ?? 0) * (1 - call.confidence);
    return known + (differs[name] ?? 0) + noise;
  });
}

/** What a person does to a mark so that it says what stands there; null: nothing to do. */
function correctionOf(plantId: string, { kind }: MarkCall, is: MarkLabel): PhotoChange | null {
  if (is === 'double') return { kind: 'split plant', plantId };
  if (is === 'not a plant') return { kind: 'remove plant', plantId };
  return kind === is ? null : { kind: 'name plant', plantId, as: is };
}

function slip(label: MarkLabel): MarkLabel {
  return label === 'plant' ? 'weed' : 'plant';
}

function countOf(sha256: string, stock: readonly Detection[]): CountResult {
  return {
    schema: 'rowledger/count@1',
    photo: { file: `${sha256}.jpg`, sha256, widthPx: 4000, heightPx: 3000, takenAt: null, position: null },
    reference: {
      kind: 'none',
      endsPx: null,
      endsM: null,
      photoToGround: null,
      alongErrorMm: null,
      reason: 'simulated',
      cues: [],
      readings: [],
    },
    stretch: null,
    detector: { name: 'simulated', version: '1' },
    plants: stock.map(
      ({ id, kind, confidence, doubleChance }, k): CountedPlant => ({
        id,
        xPx: 10 * k,
        yPx: 0,
        alongM: null,
        acrossM: null,
        kind,
        inStretch: true,
        confidence,
        doubleChance,
        alongSdMm: 4,
      }),
    ),
    count: countInterval(stock, 0.9),
    spacing: null,
    gaps: [],
    population: null,
    warnings: [],
    timingsMs: { total: 0 },
  };
}
