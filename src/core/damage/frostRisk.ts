import type { Source } from '../sources/source.ts';
import { published } from '../sources/source.ts';

/** Temperature at which half the week-old seedlings die, degrees Celsius, as a band. */
export const FROST_LT50 = {
  'dry bean': { colderC: -3.5, warmerC: -3.25, source: published('meyerBadaruddin2001') },
  soybean: { colderC: -4.5, warmerC: -4.5, source: published('meyerBadaruddin2001') },
} as const;

/** Colder than this for longer than two hours is a severe risk. */
export const KILLING_FROST = { celsius: -2, hours: 2, source: published('manitobaBeans') } as const;

export type FrostRisk = 'none' | 'some' | 'severe' | 'half or more may be dead';

export interface FrostReading {
  readonly risk: FrostRisk;
  readonly because: string;
  readonly source: Source;
}

/**
 * What one night's minimum near the plants says. It never replaces looking at growing points three to five days
 * later: air temperature at a station is not leaf temperature in a hollow.
 */
export function frostRisk(
  minimumC: number,
  hoursBelowMinus2C: number | null,
  crop: keyof typeof FROST_LT50 = 'dry bean',
): FrostReading {
  const lt50 = FROST_LT50[crop];
  if (minimumC <= lt50.warmerC) {
    const place = minimumC < lt50.colderC ? 'below' : 'inside';
    return {
      risk: 'half or more may be dead',
      because: `${minimumC} C is ${place} the LT50 band of ${crop} seedlings (${lt50.colderC} to ${lt50.warmerC} C)`,
      source: lt50.source,
    };
  }
  if (minimumC < KILLING_FROST.celsius) {
    const long = hoursBelowMinus2C === null || hoursBelowMinus2C > KILLING_FROST.hours;
    return {
      risk: long ? 'severe' : 'some',
      because: long
        ? `colder than ${KILLING_FROST.celsius} C ${hoursBelowMinus2C === null ? 'for an unknown time' : `for ${hoursBelowMinus2C} h`}`
        : `colder than ${KILLING_FROST.celsius} C, but for ${KILLING_FROST.hours} h or less`,
      source: KILLING_FROST.source,
    };
  }
  if (minimumC < 0) return { risk: 'some', because: 'freezing, but milder than -2 C', source: KILLING_FROST.source };
  return { risk: 'none', because: 'no freezing temperature', source: KILLING_FROST.source };
}
