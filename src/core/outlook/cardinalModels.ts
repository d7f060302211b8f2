import type { Source } from '../sources/source.ts';
import { published, publishedWith } from '../sources/source.ts';

/** Daily rate of progress to emergence, 0 outside base..ceiling, 1 between the optima. Degrees Celsius. */
export interface CardinalTemperatures {
  readonly baseC: number;
  readonly optimumLowC: number;
  readonly optimumHighC: number;
  readonly ceilingC: number;
}

/**
 * One published account of planting to emergence. Base and thermal sum belong together: a base from one account with
 * the sum of another means nothing, so they are only ever handed out as one record.
 */
export interface EmergenceModel {
  readonly id: string;
  readonly name: string;
  readonly crop: 'bean' | 'soybean';
  readonly temperatures: CardinalTemperatures;
  /** Degree-days above its own base to its own mark. */
  readonly thermalSumCd: number;
  /** Share of the final stand up when the sum is reached. */
  readonly shareAtSum: number;
  readonly source: Source;
}

const CROPGRO: CardinalTemperatures = { baseC: 5, optimumLowC: 27, optimumHighC: 37, ceilingC: 45 };

/** 1/days against degrees C over 15, 20, 25, 30 C (16, 11, 8, 6 days): slope and crossing. */
const HARRINGTON_BASE_C = 6.4481;
const HARRINGTON_SUM_CD = 144.262;

function cropgro(id: string, name: string, thermalDays: number): EmergenceModel {
  return {
    id,
    name,
    crop: 'bean',
    temperatures: CROPGRO,
    thermalSumCd: thermalDays * (CROPGRO.optimumLowC - CROPGRO.baseC),
    shareAtSum: 0.5,
    source: publishedWith('a model bound: rows in the field take longer', 'cropgroDryBean'),
  };
}

export const MESOAMERICAN = cropgro('cropgro-mesoamerican', 'dry bean, Mesoamerican (small seed)', 2.4);
export const MEXICAN_HIGHLAND = cropgro('cropgro-highland', 'dry bean, Mexican highland (medium seed)', 2.9);
export const ANDEAN = cropgro('cropgro-andean', 'dry bean, Andean (large seed)', 3.4);

/** Days to emergence at constant temperature, half an inch deep, as a line in 1/days. */
export const HARRINGTON_MINGES: EmergenceModel = {
  id: 'harrington-minges',
  name: 'snap and common bean at constant temperature',
  crop: 'bean',
  // The table falls off above 30 C and gives nothing at 40 C.
  temperatures: { baseC: HARRINGTON_BASE_C, optimumLowC: 30, optimumHighC: 32, ceilingC: 40 },
  thermalSumCd: HARRINGTON_SUM_CD,
  shareAtSum: 0.5,
  source: publishedWith('base and sum fitted by us to its 15 to 30 C columns', 'harringtonMinges1954'),
};

/** The published days behind `HARRINGTON_MINGES`. */
export const HARRINGTON_MINGES_DAYS = [
  { celsius: 15, days: 16 },
  { celsius: 20, days: 11 },
  { celsius: 25, days: 8 },
  { celsius: 30, days: 6 },
] as const;

/**
 * How long the late half takes: days to 90 % over days to 50 % at one constant temperature (the base cancels).
 * No bean figures were read; soybean gives 155/130 growing degrees (Wisconsin) and 200/141 (Purdue).
 */
export const LATE_TO_MIDDLE = {
  low: 155 / 130,
  high: 200 / 141,
  source: publishedWith('soybean, the closest crop', 'msuSoybeanStands'),
} as const;

/** Soybean growing degrees F (base 50, cap 86, clamped each) to half and nine tenths emerged, soil temperature. */
export const SOYBEAN_GDD_F = {
  wisconsin: { half: 130, nineTenths: 155 },
  purdue: { half: 141, nineTenths: 200 },
  baseF: 50,
  capF: 86,
  source: published('msuSoybeanStands'),
} as const;

/** Soil is warm enough to plant from here on, steadily. */
export const LEAST_SOIL_TO_PLANT = { celsius: 15, source: published('manitobaBeans', 'ontarioBeans') } as const;
