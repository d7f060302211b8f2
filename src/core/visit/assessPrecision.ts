import type { FieldStand } from '../sampling/fieldStand.ts';
import { finiteFieldFactor, spotsNeeded } from '../sampling/spotsNeeded.ts';
import { fitTaylorPower, spotsNeededByTaylor, type TaylorPower } from '../sampling/taylorPower.ts';
import { countPieces, type Dispersion, dispersion } from '../stand/dispersion.ts';
import { countedAreaM2, plantsCounted } from '../stand/standCount.ts';
import { describe } from '../statistics/describe.ts';
import type { SpotCounts } from './spotCounts.ts';

/** How near the truth a field's mean is usually wanted: half the interval over the mean. Common practice, no source. */
export const USUAL_PRECISION = 0.1;
const LEVEL = 0.9;
/** Spots of other fields say something of these only where they cover about as much ground: within this factor. */
const LIKE_GROUND = 1.5;
/** Below this the test of the pattern has little to say. */
const LEAST_PIECES = 5;
const SIGNIFICANCE = 0.05;

/** Mean and variance of the spots of one field, plants per square metre, and the ground of a spot. */
export interface FieldMoments {
  readonly mean: number;
  readonly variance: number;
  readonly groundM2: number;
}

/** How good the mean is, and how many spots in all a mean good to `USUAL_PRECISION` takes, by each formula that applies. */
export interface PrecisionNumbers {
  readonly level: number;
  /** Half the interval over the mean; null without an interval. */
  readonly halfWidthShare: number | null;
  /** SD over mean between spots, within zones where the field has zones. */
  readonly cv: number;
  /** By Student's t and this CV; null above a million. */
  readonly spots: number | null;
  /** The same where the field holds only so many spots; null where its area is not known. */
  readonly finite: {
    readonly spotsInField: number;
    readonly spots: number | null;
    /** What the interval would be multiplied by for the share of the field that was counted; not taken off. */
    readonly narrowing: number;
  } | null;
  /** By Taylor's power law through fields counted before; null below three of them. */
  readonly taylor: (TaylorPower & { readonly fields: number; readonly spots: number }) | null;
}

/** The pattern of plants along the rows: counts of equal pieces of row. */
export interface PatternNumbers extends Dispersion {
  readonly pieceM: number;
}

/** Mean and variance of a field's spots, zones not told apart; null below two spots. */
export function fieldMoments(spots: readonly SpotCounts[]): FieldMoments | null {
  const densities: number[] = [];
  let groundM2 = 0;
  for (const { usable } of spots) {
    let [plants, areaM2] = [0, 0];
    for (const count of usable) {
      const area = countedAreaM2(count);
      areaM2 += area.ok ? area.value : Number.NaN;
      plants += plantsCounted(count);
    }
    if (!(areaM2 > 0)) continue;
    densities.push(plants / areaM2);
    groundM2 += areaM2;
  }
  const { n, mean, variance } = describe(densities);
  return mean === null || variance === null ? null : { mean, variance, groundM2: groundM2 / n };
}

/** Null where the spots show no spread or no plants. */
export function assessPrecision(
  field: Pick<FieldStand, 'value' | 'interval' | 'standardError' | 'n'> | null,
  own: FieldMoments | null,
  fieldAreaM2: number | null,
  before: readonly FieldMoments[],
): PrecisionNumbers | null {
  if (field === null || own === null || field.standardError === null || !(field.value > 0)) return null;
  const cv = (field.standardError * Math.sqrt(field.n)) / field.value;
  const wanted = { cv, precision: USUAL_PRECISION, level: LEVEL };
  const spotsInField = fieldAreaM2 === null ? null : Math.floor(fieldAreaM2 / own.groundM2);
  const alike = before.filter((one) => {
    const factor = one.groundM2 / own.groundM2;
    return factor <= LIKE_GROUND && factor >= 1 / LIKE_GROUND;
  });
  const law = fitTaylorPower(alike);
  return {
    level: LEVEL,
    halfWidthShare: field.interval === null ? null : (field.interval.high - field.interval.low) / 2 / field.value,
    cv,
    spots: spotsNeeded(wanted),
    finite:
      spotsInField === null || spotsInField < Math.max(2, field.n)
        ? null
        : {
            spotsInField,
            spots: spotsNeeded({ ...wanted, spotsInField }),
            narrowing: finiteFieldFactor(field.n, spotsInField),
          },
    taylor: law.ok
      ? {
          ...law.value,
          fields: alike.length,
          spots: spotsNeededByTaylor(law.value, field.value, USUAL_PRECISION, LEVEL),
        }
      : null,
  };
}

/** Pieces of row that places of plants are counted by: long enough to hold some at a usual stand. */
const PLACED_PIECE_M = 0.5;

/**
 * Index of dispersion of the rows counted over one length, the commonest; where fewer than five rows were counted by
 * hand, of pieces of the photographed rows. Null below five of either.
 */
export function assessPattern(spots: readonly SpotCounts[]): PatternNumbers | null {
  const pieces = new Map<number, number[]>();
  for (const { usable } of spots) {
    for (const count of usable) {
      if (count.kind !== 'rows') continue;
      const known = pieces.get(count.lengthM);
      if (known === undefined) pieces.set(count.lengthM, [...count.plants]);
      else known.push(...count.plants);
    }
  }
  const [most] = [...pieces].sort((a, b) => b[1].length - a[1].length);
  const isByHand = most !== undefined && most[1].length >= LEAST_PIECES;
  const [pieceM, counts] = isByHand ? most : [PLACED_PIECE_M, photoPieces(spots)];
  if (counts.length < LEAST_PIECES) return null;
  const found = dispersion(counts, SIGNIFICANCE);
  return found.ok ? { ...found.value, pieceM } : null;
}

function photoPieces(spots: readonly SpotCounts[]): readonly number[] {
  return spots.flatMap(({ corrected }) =>
    corrected.flatMap(({ count, leftOut }) => {
      if (leftOut !== null || count.kind !== 'photo' || count.result.stretch === null) return [];
      const { fromM, toM } = count.result.stretch;
      const places = count.result.plants.flatMap((plant) =>
        plant.kind === 'plant' && plant.inStretch && plant.alongM !== null ? [plant.alongM] : [],
      );
      return countPieces(places, fromM, toM, PLACED_PIECE_M);
    }),
  );
}
