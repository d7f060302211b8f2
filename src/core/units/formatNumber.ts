/** A number for people: at most `decimals` places, no trailing zeros, thousands parted by commas. */
export function formatNumber(value: number, decimals: number): string {
  const fixed = Math.abs(value).toFixed(decimals);
  const [whole, part] = fixed.split('.');
  const grouped = whole!.replace(/\B(?=(\d{3})+$)/g, ',');
  const tail = part === undefined ? '' : part.replace(/0+$/, '');
  const digits = tail === '' ? grouped : `${grouped}.${tail}`;
  return value < 0 && Number(fixed) !== 0 ? `-${digits}` : digits;
}
