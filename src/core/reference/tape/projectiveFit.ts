import { square } from '../../statistics/square.ts';
import { median } from '../line/contrastDirection.ts';
import { solveLeastSquares } from '../line/solveLeastSquares.ts';

export interface ProjectiveFit {
  /** reading = perT * u / (1 + c u) + offset. */
  readonly c: number;
  readonly perT: number;
  readonly offset: number;
  /** Robust spread of the readings about the map. */
  readonly spread: number;
  /** Expected error (1 sd) of the difference of readings from u = -1 to 1, wherever between the places lie. */
  readonly lengthSdPeriods: number;
}

/**
 * The projective map of a line that fits readings at places u robustly: Gauss-Newton steps with Tukey weights. Null for
 * fewer than 4 places or when they do not fix a map.
 */
export function projectiveFit(
  places: readonly { readonly u: number; readonly reading: number; readonly weight: number }[],
  c0: number,
  perT0: number,
): ProjectiveFit | null {
  if (places.length < 4) return null;
  let c = c0;
  let perT = perT0;
  const predicted = (u: number): number => (perT * u) / (1 + c * u);
  let offset = median(places.map((p) => p.reading - predicted(p.u)));
  const rowAt = (u: number): number[] => {
    const t = u / (1 + c * u);
    return [1, t, -perT * t * t];
  };
  let weights = places.map((p) => p.weight);
  let rows: number[][] = [];
  let spread = 0.1;
  for (let pass = 0; pass < 10; pass++) {
    rows = places.map(({ u }) => rowAt(u));
    const residuals = places.map((p) => p.reading - predicted(p.u) - offset);
    if (pass > 0) {
      spread = Math.max(0.002, 1.4826 * median(residuals.map(Math.abs)));
      weights = residuals.map((r, i) => {
        const x = r / (4.685 * spread);
        return Math.abs(x) < 1 ? square(1 - x * x) * places[i]!.weight : 0;
      });
    }
    const step = solveLeastSquares(rows, residuals, weights);
    if (step === null) return null;
    offset += step[0]!;
    perT += step[1]!;
    c += step[2]!;
    if (!(Math.abs(c) < 0.92) || !(perT > 0)) return null;
  }
  const [first, last] = [rowAt(-1), rowAt(1)];
  const load = last.map((x, i) => x - first[i]!);
  const top = Math.max(1e-9, ...weights);
  const normal = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => rows.reduce((sum, r, k) => sum + (weights[k]! / top) * r[i]! * r[j]!, 0)),
  );
  const x = solveLeastSquares(normal, load, null);
  const variance = x === null ? Number.POSITIVE_INFINITY : load.reduce((sum, l, i) => sum + l * x[i]!, 0);
  return { c, perT, offset, spread, lengthSdPeriods: spread * Math.sqrt(Math.max(0, variance)) };
}
