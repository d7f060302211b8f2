import type { Random } from '../statistics/seededRandom.ts';

/** Deals photos into parts of nearly equal size, shuffled (Fisher-Yates). The order given does not matter. */
export function photoFolds(photos: readonly string[], parts: number, random: Random): readonly (readonly string[])[] {
  const shuffled = [...new Set(photos)].sort();
  for (let i = shuffled.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [shuffled[i], shuffled[j]] = [shuffled[j]!, shuffled[i]!];
  }
  const folds: string[][] = Array.from({ length: Math.max(1, Math.min(parts, shuffled.length)) }, () => []);
  for (const [k, photo] of shuffled.entries()) folds[k % folds.length]!.push(photo);
  return folds;
}
