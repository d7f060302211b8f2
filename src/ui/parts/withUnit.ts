/** A number typed alone, with the unit it was asked for in; anything else as it was typed. */
export function withUnit(typed: string, unit: string): string {
  const text = typed.trim();
  return /^-?[\d.,/ ]+$/.test(text) ? `${text}${unit.startsWith('/') ? '' : ' '}${unit}` : text;
}
