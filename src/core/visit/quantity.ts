import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import {
  KILOGRAMS_PER_POUND,
  SQUARE_METRES_PER_ACRE,
  SQUARE_METRES_PER_HECTARE,
  SQUARE_METRES_PER_SQUARE_FOOT,
} from '../units/conversions.ts';
import { parseLength } from '../units/parseLength.ts';

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

const HUNDREDWEIGHT_KG = 100 * KILOGRAMS_PER_POUND;
/** A bushel of dry beans weighs 60 lb, the trade's fixed weight (common practice, no source). */
const BEAN_BUSHEL_KG = 60 * KILOGRAMS_PER_POUND;
const ACRE = SQUARE_METRES_PER_ACRE;
const HECTARE = SQUARE_METRES_PER_HECTARE;

const EXAMPLES: Readonly<Record<Exclude<Dimension, 'length'>, string>> = {
  area: '"80 ac" or "32 ha"',
  temperature: '"58 F" or "14 C"',
  density: '"75,000 plants/ac", "80,000 seeds/ac", "185,000 plants/ha" or "18 plants/m2"',
  yield: '"2,400 lb/ac", "24 cwt/ac", "40 bu/ac", "2,700 kg/ha" or "2.7 t/ha"',
  'money per area': '"42.50/ac" or "105/ha"',
  price: '"34/cwt", "0.34/lb", "20/bu" or "0.75/kg"',
  share: '"90 %"',
};

const UNITS: Readonly<Record<Exclude<Dimension, 'length' | 'temperature'>, Readonly<Record<string, number>>>> = {
  area: { ac: ACRE, acre: ACRE, acres: ACRE, ha: HECTARE, m2: 1 },
  density: {
    '/ac': 1 / ACRE,
    '/acre': 1 / ACRE,
    '/ha': 1 / HECTARE,
    '/m2': 1,
    '/ft2': 1 / SQUARE_METRES_PER_SQUARE_FOOT,
  },
  yield: {
    'lb/ac': KILOGRAMS_PER_POUND / ACRE,
    'cwt/ac': HUNDREDWEIGHT_KG / ACRE,
    'bu/ac': BEAN_BUSHEL_KG / ACRE,
    'kg/ha': 1 / HECTARE,
    't/ha': 1000 / HECTARE,
  },
  'money per area': { '/ac': 1 / ACRE, '/acre': 1 / ACRE, '/ha': 1 / HECTARE },
  price: {
    '/lb': 1 / KILOGRAMS_PER_POUND,
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
  if (dimension === 'length') return parseLength(text);
  const value = read(text, dimension);
  if (value !== null && Number.isFinite(value)) return good(value);
  const article = dimension === 'area' ? 'an' : 'a';
  return cannot(
    'not a quantity',
    `"${text}"`,
    `${article} ${dimension} with its unit, such as ${EXAMPLES[dimension]}`,
    'Write the number and its unit.',
  );
}

/** The value of a quantity that the schema has already checked; null when it is absent. */
export function quantityIn(text: string | undefined, dimension: Dimension): number | null {
  if (text === undefined) return null;
  const value = parseQuantity(text, dimension);
  return value.ok ? value.value : null;
}

function read(text: string, dimension: Exclude<Dimension, 'length'>): number | null {
  const found = /^\s*[$€£]?(-?(?:\d{1,3}(?:[, ]\d{3})+|\d+)(?:\.\d+)?|-?\.\d+)\s*(.*?)\s*$/.exec(text);
  if (found === null) return null;
  const value = Number(found[1]!.replace(/[, ]/g, ''));
  const unit = found[2]!
    .toLowerCase()
    .replace('²', '2')
    .replace(/^(plants|seeds)\s*/, '')
    .replace(/\s*\/\s*/g, '/');
  if (dimension === 'temperature') {
    const degree = unit.replace('°', '').trim();
    if (degree === 'c') return value;
    return degree === 'f' ? ((value - 32) * 5) / 9 : null;
  }
  // A bare share such as 0.9 could be a share or nine tenths of a percent, so the sign is wanted here too.
  const scale = Object.hasOwn(UNITS[dimension], unit) ? UNITS[dimension][unit] : undefined;
  return scale === undefined || value < 0 ? null : value * scale;
}
