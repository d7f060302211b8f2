import { square } from '../../statistics/square.ts';
import { SPECTRUM_SIZE, spectra } from './spectra.ts';

/** A guess of an even pattern whose places may wander: cycles per unit of t, and the foreshortening. */
export interface PeriodGuess {
  readonly c: number;
  readonly perT: number;
  readonly score: number;
}

/** Score (standard errors of the mean log power, about) below which a period is chance; bare soil gives 1 to 1.5. */
const LEAST = 3;

/**
 * Periods from short stretches alone, without holding their phases together: where the ground under a tape rises and
 * falls by a centimetre, graduations seen obliquely shift by a period or more, and a transform of the whole length sees
 * no line. Sums each stretch's log spectrum along the curve of local frequency that (perT, c) imply.
 */
export function localPeriods(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
  most: number,
  widthPx: number,
): PeriodGuess[] {
  const n = signals[0]!.length;
  const short = Math.max(48, Math.min(SPECTRUM_SIZE, Math.round(n / 18)));
  const found = periodsWithin(signals, guess, reach, most, short, 0.3 * n);
  // an inch is up to two widths of a tape: on a short tape that takes longer stretches to see
  const long = Math.min(SPECTRUM_SIZE, Math.round(7 * widthPx));
  if (long > 1.3 * short) found.push(...periodsWithin(signals, guess, reach, most, long, (1.8 * n) / short));
  found.sort((a, b) => b.score - a.score);
  const kept: PeriodGuess[] = [];
  for (const f of found) {
    if (kept.every((k) => Math.abs(Math.log(k.perT / f.perT)) > 0.09)) kept.push(f);
  }
  return kept.slice(0, most);
}

function periodsWithin(
  signals: readonly Float32Array[],
  guess: number,
  reach: number,
  most: number,
  length: number,
  fastest: number,
): PeriodGuess[] {
  const n = signals[0]!.length;
  const windows = spectra(signals, length);
  if (windows.length < 4) return [];
  const score = (c: number, perT: number): number => {
    let sum = 0;
    let terms = 0;
    for (const { u, log } of windows) {
      const f = ((perT * 2) / n / square(1 + c * u)) * SPECTRUM_SIZE;
      if (f < 2.5 * (SPECTRUM_SIZE / length)) continue;
      for (let k = 1; k <= 6; k++) {
        const at = k * f;
        if (at > 0.44 * SPECTRUM_SIZE) break;
        const j = at | 0;
        sum += log[j]! + (at - j) * (log[j + 1]! - log[j]!);
        terms++;
      }
    }
    return terms >= windows.length ? sum / Math.sqrt(terms) : 0;
  };
  const found: PeriodGuess[] = [];
  const steps = Math.max(4, Math.round(reach / 0.0075));
  const slowest = (1.5 * n) / length;
  for (let i = -steps; i <= steps; i++) {
    const c = Math.max(-0.85, Math.min(0.85, guess + (reach * i) / steps));
    for (let perT = slowest; perT < fastest; perT *= 1.006) {
      const value = score(c, perT);
      if (value > LEAST) found.push({ c, perT, score: value });
    }
  }
  found.sort((a, b) => b.score - a.score);
  const kept: PeriodGuess[] = [];
  for (const f of found) {
    // slips of the same pattern by a few percent are not other patterns
    if (kept.some((k) => Math.abs(Math.log(k.perT / f.perT)) < 0.09)) continue;
    kept.push(finer(f));
    if (kept.length >= most) break;
  }
  return kept;

  function finer(start: PeriodGuess): PeriodGuess {
    let best = start;
    for (const [dc, dp] of [
      [reach / steps / 3, 0.002],
      [reach / steps / 12, 0.0005],
    ] as const) {
      const from = best;
      for (let i = -4; i <= 4; i++) {
        for (let j = -5; j <= 5; j++) {
          const c = from.c + i * dc;
          const perT = from.perT * (1 + j * dp);
          const value = score(c, perT);
          if (value > best.score) best = { c, perT, score: value };
        }
      }
    }
    return best;
  }
}
