import { toFlat } from './metresPerDegree.ts';
import type { Position } from './randomPoints.ts';

/** Ground inside an outline that does not cross itself, square metres; 0 below three corners. */
export function outlineAreaM2(outline: readonly Position[]): number {
  if (outline.length < 3) return 0;
  const middle = (degrees: readonly number[]) => (Math.min(...degrees) + Math.max(...degrees)) / 2;
  const origin: Position = [middle(outline.map(([y]) => y)), middle(outline.map(([, x]) => x))];
  const flat = outline.map((corner) => toFlat(corner, origin));
  const twice = flat.reduce((sum, a, i) => {
    const b = flat[(i + 1) % flat.length]!;
    return sum + a.x * b.y - b.x * a.y;
  }, 0);
  return Math.abs(twice) / 2;
}
