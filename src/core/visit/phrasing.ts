import type { Phrasing } from '../decision/decisionFacts.ts';
import { formatDay } from '../outlook/calendar.ts';
import { KILOGRAMS_PER_POUND, SQUARE_METRES_PER_ACRE, SQUARE_METRES_PER_HECTARE } from '../units/conversions.ts';
import { fromPerSquareMetre } from '../units/density.ts';
import { formatNumber } from '../units/formatNumber.ts';
import { formatPopulation } from '../units/formatPopulation.ts';

/** How numbers are said in the units of a document: plants and money per acre or per hectare, areas likewise. */
export function phrasingFor(units: 'imperial' | 'metric', currency: string | null): Phrasing {
  const unit = units === 'imperial' ? 'perAcre' : 'perHectare';
  const areaM2 = units === 'imperial' ? SQUARE_METRES_PER_ACRE : SQUARE_METRES_PER_HECTARE;
  const short = units === 'imperial' ? 'ac' : 'ha';
  return {
    plantsRange: (low, high) => {
      const say = (perM2: number) => formatPopulation(Math.max(0, fromPerSquareMetre(perM2, unit)), unit);
      return `${say(low).replace(/ .*$/, '')} to ${say(high)}`;
    },
    plants: (perM2) => formatPopulation(Math.max(0, fromPerSquareMetre(perM2, unit)), unit),
    money: (perM2) => `${formatNumber(perM2 * areaM2, 0)} ${currency ?? ''}/${short}`.replace(' /', '/'),
    yields: (kgPerM2) =>
      units === 'imperial'
        ? `${formatNumber(Math.round((kgPerM2 * SQUARE_METRES_PER_ACRE) / KILOGRAMS_PER_POUND / 10) * 10, 0)} lb/ac`
        : `${formatNumber(Math.round((kgPerM2 * SQUARE_METRES_PER_HECTARE) / 10) * 10, 0)} kg/ha`,
    area: (m2) => `${formatNumber(m2 / areaM2, m2 / areaM2 < 10 ? 1 : 0)} ${short}`,
    day: formatDay,
  };
}
