import { cannot, good, type Outcome } from '../faults/outcome.ts';
import {
  METRES_PER_CENTIMETRE,
  METRES_PER_FOOT,
  METRES_PER_INCH,
  METRES_PER_MILLIMETRE,
  METRES_PER_YARD,
} from './conversions.ts';

const UNITS: ReadonlyArray<readonly [pattern: RegExp, metres: number, system: 'imperial' | 'metric']> = [
  [/^(yards?|yds?)$/, METRES_PER_YARD, 'imperial'],
  [/^(feet|foot|ft|')$/, METRES_PER_FOOT, 'imperial'],
  [/^(inch(es)?|in|")$/, METRES_PER_INCH, 'imperial'],
  [/^(met(re|er)s?|m)$/, 1, 'metric'],
  [/^(centimet(re|er)s?|cm)$/, METRES_PER_CENTIMETRE, 'metric'],
  [/^(millimet(re|er)s?|mm)$/, METRES_PER_MILLIMETRE, 'metric'],
];

const FRACTIONS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const WANTED = 'a length with its unit, such as 30 in, 2\'6", 17 ft 5 in, 7 1/2 in, 75 cm, 600 mm or 3.05 m';

/** A number (thousands by commas, decimals, a fraction behind it) followed by its unit. */
const PART = /^\s*((?:[\d.,]+(?:[\s-]+\d+\/\d+)?)|(?:\d+\/\d+))\s*([a-z]+|'|")\.?\s*/i;

/**
 * Reads a length as people write it; metres. There is no default unit: a bare number is refused. Feet and inches (and
 * metres and centimetres) may follow each other, largest first. A comma before exactly three digits (`1,500 m`) could
 * part thousands or decimals, so it is read as thousands only where no metric unit follows, and refused otherwise.
 */
export function parseLength(text: string): Outcome<number> {
  const refuse = (found: string) => cannot('length', found, WANTED, 'Write the number and its unit.');
  let rest = plain(text);
  if (rest.trim() === '') return refuse('nothing');
  if (/^\s*[-−]/.test(rest)) return refuse(`"${text}", which is below 0`);
  if (/^\s*[\d.,/\s]+$/.test(rest)) return refuse(`"${text}", a number without a unit`);
  let metres = 0;
  let before: { readonly metres: number; readonly system: string } | null = null;
  while (rest !== '') {
    const part = PART.exec(rest);
    const unit = part === null ? undefined : UNITS.find(([pattern]) => pattern.test(part[2]!.toLowerCase()));
    if (part === null || unit === undefined) return refuse(`"${text}"`);
    const [, unitM, system] = unit;
    const value = numberFrom(part[1]!, system);
    if (value === 'ambiguous') return refuse(`"${text}", where the comma may part thousands or decimals`);
    if (value === null) return refuse(`"${text}"`);
    if (before !== null && (before.system !== system || unitM >= before.metres)) return refuse(`"${text}"`);
    metres += value * unitM;
    before = { metres: unitM, system };
    rest = rest.slice(part[0].length);
  }
  return good(metres);
}

/** Typographic marks to plain ones: primes, curly quotes, vulgar fractions; two single marks mean inches. */
function plain(text: string): string {
  return text
    .replace(/[′’‘]/g, "'")
    .replace(/[″”“]|''/g, '"')
    .replace(/(\d?)\s*([½¼¾⅛⅜⅝⅞])/g, (_all, digit: string, mark: string) =>
      digit === '' ? FRACTIONS[mark]! : `${digit} ${FRACTIONS[mark]!}`,
    );
}

function numberFrom(text: string, system: 'imperial' | 'metric'): number | 'ambiguous' | null {
  const [, whole, top, bottom] = /^(?:([\d.,]+)[\s-]+)?(\d+)\/(\d+)$/.exec(text) ?? [];
  if (top !== undefined && bottom !== undefined) {
    const base = whole === undefined ? 0 : numberFrom(whole, system);
    if (typeof base !== 'number' || !Number.isInteger(base) || Number(bottom) === 0) return null;
    return base + Number(top) / Number(bottom);
  }
  if (/^\d{1,3}(,\d{3})+$/.test(text) && system === 'metric') return 'ambiguous';
  const clean = /^\d{1,3}(,\d{3})+(\.\d+)?$/.test(text)
    ? text.replace(/,/g, '')
    : text.replace(/^(\d+),(\d+)$/, '$1.$2');
  return /^(\d+\.?\d*|\.\d+)$/.test(clean) ? Number(clean) : null;
}
