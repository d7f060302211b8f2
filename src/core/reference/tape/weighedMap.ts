import { norm } from '../../geometry/norm.ts';
import { square } from '../../statistics/square.ts';
import type { FollowedPrint } from './followPrint.ts';
import { isEven } from './isEven.ts';
import type { PeriodGuess } from './localPeriods.ts';
import { lengthOf } from './possibleReadings.ts';
import { projectiveFit } from './projectiveFit.ts';

/** Doubt of the length that short stretches give without their phases (1 sd, share): rendered tapes along the row. */
const PERIODS_SD = 0.006;
/**
 * The same of periods told from the whole band at once, their phases held together: on eight tapes along the row, rendered
 * by two renderers, they were 0.2 % off at most.
 */
const WHOLE_SD = 0.002;
/** Doubt of a faint print's phases beside what their spread says: pattern, relief and lost marks lead a whole stretch astray. */
const PHASES_SD = 0.005;
/** Where marks are not resolved the map only goes on: doubt of the length there, as a share of it. */
const BEYOND_SD = 0.015;
const PLACES = 17;

/**
 * The map of a print too faint to be sure of: that of its local periods and that of its phases, weighed by their doubts,
 * instead of one or the other by a choice that a grey level turns. The difference of the two goes into the doubt.
 *
 * @param whole the periods of the whole band at once, where they stand out clearly: then they take the local periods' place
 */
export function weighedMap(
  print: FollowedPrint,
  period: PeriodGuess,
  phases: FollowedPrint | null,
  whole: PeriodGuess | null = null,
): FollowedPrint | null {
  if (whole !== null) return weighed(print, whole, WHOLE_SD, 0, phases);
  const lengthA = lengthOf(period);
  const seen = (phases ?? print).places.map((p) => readingAt(period, p.u));
  const beyond = seen.length === 0 ? 0 : Math.max(0, 1 - (Math.max(...seen) - Math.min(...seen)) / lengthA);
  return weighed(print, period, PERIODS_SD, beyond, phases);
}

function readingAt(map: { readonly c: number; readonly perT: number }, u: number): number {
  return (map.perT * u) / (1 + map.c * u);
}

function weighed(
  print: FollowedPrint,
  period: PeriodGuess,
  periodSd: number,
  beyond: number,
  phases: FollowedPrint | null,
): FollowedPrint | null {
  const lengthA = lengthOf(period);
  const sdA = norm(periodSd, BEYOND_SD * beyond) * lengthA;
  const lengthB = phases === null ? lengthA : lengthOf(phases);
  // the farther uneven phases lead from the periods, which are the steadier, the less they are to be trusted
  const sdB =
    phases === null
      ? Number.POSITIVE_INFINITY
      : norm(PHASES_SD * lengthB, 1.5 * phases.lengthSdPeriods, isEven(phases) ? 0 : lengthB - lengthA);
  const share = square(sdA) / (square(sdA) + square(sdB));
  const places = Array.from({ length: PLACES }, (_, i) => {
    const u = (2 * (i + 0.5)) / PLACES - 1;
    const reading = (1 - share) * readingAt(period, u) + share * readingAt(phases ?? period, u);
    return { u, reading, weight: 1 };
  });
  const fit = projectiveFit(places, period.c, period.perT);
  if (fit === null) return null;
  const lengthSdPeriods = norm(
    Math.sqrt(1 - share) * sdA,
    Math.sqrt(share * (1 - share)) * (lengthB - lengthA),
    BEYOND_SD * beyond * lengthOf(fit),
  );
  return { ...print, ...fit, spread: print.spread, lengthSdPeriods, places };
}
