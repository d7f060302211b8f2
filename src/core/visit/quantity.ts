import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';

/** What a written quantity measures. Values come out in the SI unit named here. */
export type Dimension =
  /** metres */
  | 'length'
  /** square metres */
  | 'area'
  /** degrees Celsius */
  | 'temperature'
  /** plants or seeds per square metre */
  | 'density'
  /** kilograms per square metre */
  | 'yield'
  /** money per square metre */
  | 'money per area'
  /** money per kilogram */
  | 'price'
  /** share, 0 to 1 and beyond */
  | 'share';

const FOOT_M = 0.3048;
const INCH_M = FOOT_M / 12;
const ACRE_M2 = 43_560 * FOOT_M * FOOT_M;
const HECTARE_M2 = 10_000;
const POUND_KG = 0.453_592_37;
const HUNDREDWEIGHT_KG = 100 * POUND_KG;
/** A bushel of dry beans weighs 60 lb, the trade's fixed weight. */
const BEAN_BUSHEL_KG = 60 * POUND_KG;

const EXAMPLES: Readonly<Record<Dimension, string>> = {
  length: '"30 in", "17 ft 5 in" or "75 cm"',
  area: '"80 ac" or "32 ha"',
  temperature: '"58 F" or "14 C"',
  density: '"75,000 plants/ac", "80,000 seeds/ac", "185,000 plants/ha" or "18 plants/m2"',
  yield: '"2,400 lb/ac", "24 cwt/ac", "40 bu/ac", "2,700 kg/ha" or "2.7 t/ha"',
  'money per area': '"42.50/ac" or "105/ha"',
  price: '"34/cwt", "0.34/lb", "20/bu" or "0.75/kg"',
  share: '"90 %"',
};

const UNITS: Readonly<Record<Exclude<Dimension, 'length' | 'temperature'>, Readonly<Record<string, number>>>> = {
  area: { ac: ACRE_M2, acre: ACRE_M2, acres: ACRE_M2, ha: HECTARE_M2, m2: 1 },
  density: { '/ac': 1 / ACRE_M2, '/acre': 1 / ACRE_M2, '/ha': 1 / HECTARE_M2, '/m2': 1, '/ft2': 1 / FOOT_M ** 2 },
  yield: {
    'lb/ac': POUND_KG / ACRE_M2,
    'cwt/ac': HUNDREDWEIGHT_KG / ACRE_M2,
    'bu/ac': BEAN_BUSHEL_KG / ACRE_M2,
    'kg/ha': 1 / HECTARE_M2,
    't/ha': 1000 / HECTARE_M2,
  },
  'money per area': { '/ac': 1 / ACRE_M2, '/acre': 1 / ACRE_M2, '/ha': 1 / HECTARE_M2 },
  price: {
    '/lb': 1 / POUND_KG,
    '/cwt': 1 / HUNDREDWEIGHT_KG,
    '/bu': 1 / BEAN_BUSHEL_KG,
    '/kg': 1,
    '/t': 1 / 1000,
  },
  share: { '%': 0.01 },
};

/**
 * Reads one written quantity. A number without its unit is refused: there is no default unit. Thousands may be parted
 * by commas or spaces.
 */
export function parseQuantity(text: string, dimension: Dimension): Outcome<number> {
  const value = dimension === 'length' ? parseLengthM(text) : parseOther(text, dimension);
  if (value !== null && Number.isFinite(value)) return good(value);
  return cannot(
    'not a quantity',
    `"${text}"`,
    `${dimension === 'area' || dimension === 'yield' ? 'an' : 'a'} ${dimension} with its unit, such as ${EXAMPLES[dimension]}`,
    'Write the number and its unit.',
  );
}

function parseOther(text: string, dimension: Exclude<Dimension, 'length'>): number | null {
  const found = /^\s*(-?\d[\d, ]*(?:\.\d+)?|-?\.\d+)\s*(.*?)\s*$/.exec(text);
  if (found === null) return null;
  const value = Number(found[1]!.replace(/[, ]/g, ''));
  const unit = found[2]!
    .toLowerCase()
    .replace('²', '2')
    .replace(/^(plants|seeds)\s*/, '')
    .replace(/\s*\/\s*/g, '/');
  if (dimension === 'temperature') {
    const degree = unit.replace('°', '');
    if (degree === 'c') return value;
    return degree === 'f' ? ((value - 32) * 5) / 9 : null;
  }
  const scale = UNITS[dimension][unit];
  return scale === undefined ? null : value * scale;
}

function parseLengthM(text: string): number | null {
  const metric = /^\s*(-?[\d,]*\.?\d+)\s*(mm|cm|m)\s*$/.exec(text);
  if (metric !== null) {
    const scale = { mm: 0.001, cm: 0.01, m: 1 }[metric[2]!]!;
    return Number(metric[1]!.replace(/,/g, '')) * scale;
  }
  const feet = /^\s*(?:([\d,]*\.?\d+)\s*(?:ft|'))?\s*(?:([\d,]*\.?\d+)\s*(?:in|"))?\s*$/.exec(text);
  if (feet === null || (feet[1] === undefined && feet[2] === undefined)) return null;
  const number = (part: string | undefined) => (part === undefined ? 0 : Number(part.replace(/,/g, '')));
  return number(feet[1]) * FOOT_M + number(feet[2]) * INCH_M;
}
