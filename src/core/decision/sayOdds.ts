/** Odds of draws in words, never certain: `37 of 100 draws`. */
export function sayOdds(share: number): string {
  if (share > 0.99) return 'more than 99 of 100 draws';
  return share < 0.01 ? 'fewer than 1 of 100 draws' : `${Math.round(share * 100)} of 100 draws`;
}
