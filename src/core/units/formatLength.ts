import { METRES_PER_FOOT, METRES_PER_INCH } from './conversions.ts';
import { formatNumber } from './formatNumber.ts';

export type LengthSystem = 'imperial' | 'metric';

/** From here on feet and inches read better than inches alone. */
const FEET_FROM_IN = 36;

/**
 * A length for people. Imperial: inches below 3 ft (`3.4 in`, `26 in`), then feet and inches (`17 ft 5 in`); whole feet
 * stay feet. Metric: `8 mm`, `7.6 cm`, `75 cm`, `3.05 m`. Rounded to what a tape beside a row can tell.
 */
export function formatLength(metres: number, system: LengthSystem): string {
  if (!Number.isFinite(metres)) return 'unknown';
  const sign = metres < 0 ? '-' : '';
  return sign + (system === 'imperial' ? imperial(Math.abs(metres)) : metric(Math.abs(metres)));
}

/** A row width or hoop size for people, as the trade says it: always inches, or centimetres. */
export function formatRowWidth(metres: number, system: LengthSystem): string {
  if (!Number.isFinite(metres)) return 'unknown';
  return system === 'imperial'
    ? `${formatNumber(metres / METRES_PER_INCH, 2)} in`
    : `${formatNumber(metres * 100, 1)} cm`;
}

function imperial(metres: number): string {
  const inches = metres / METRES_PER_INCH;
  const feet = metres / METRES_PER_FOOT;
  if (Math.round(feet) >= 1 && Math.abs(feet - Math.round(feet)) < 1e-6) return `${formatNumber(feet, 0)} ft`;
  if (inches < 12) return `${formatNumber(inches, 1)} in`;
  if (Math.round(inches) < FEET_FROM_IN) return `${formatNumber(inches, 0)} in`;
  const whole = Math.round(inches);
  const [ft, left] = [Math.floor(whole / 12), whole % 12];
  return left === 0 ? `${formatNumber(ft, 0)} ft` : `${formatNumber(ft, 0)} ft ${left} in`;
}

function metric(metres: number): string {
  if (Math.round(metres * 1000) < 10) return `${formatNumber(metres * 1000, metres * 1000 < 1 ? 1 : 0)} mm`;
  if (metres < 0.0995) return `${formatNumber(metres * 100, 1)} cm`;
  if (metres < 0.995) return `${formatNumber(metres * 100, 0)} cm`;
  return `${formatNumber(metres, metres < 99.995 ? 2 : 0)} m`;
}
