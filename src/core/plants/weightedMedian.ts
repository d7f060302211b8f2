/** The value at which half of the weight lies below. NaN for an empty list. */
export function weightedMedian(items: readonly (readonly [value: number, weight: number])[]): number {
  const sorted = items.filter(([, w]) => w > 0).sort((a, b) => a[0] - b[0]);
  const total = sorted.reduce((sum, [, w]) => sum + w, 0);
  let sum = 0;
  for (const [value, weight] of sorted) {
    sum += weight;
    if (sum >= total / 2) return value;
  }
  return Number.NaN;
}
