import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import { type FollowedPrint, followPrint } from './followPrint.ts';
import { groupSignals } from './groupSignals.ts';
import { inkBand } from './inkBand.ts';
import { localPeriods, type PeriodGuess } from './localPeriods.ts';
import { type CameraHint, tapeWidthLikelihood } from './tapeWidth.ts';

export type Graduations = 'in' | 'cm';

/** An even print and how far its short stretches stand out from chance. */
export interface EvenPrint extends FollowedPrint {
  readonly score: number;
}

/** One reading of a ribbon's print as graduations. */
export interface GraduationReading {
  readonly system: Graduations;
  /** Length of one period of the print under this reading. */
  readonly periodM: number;
  readonly fit: EvenPrint;
  /** Log score against the other readings of the same print. */
  readonly score: number;
  /** Metres end to end of the ribbon. */
  readonly lengthM: number;
}

/** What a period may be beside the numbered unit itself, in units: what a tape without longer marks would show. */
const OTHER_PARTS: Readonly<Record<Graduations, readonly number[]>> = {
  in: [0.5, 0.25, 0.125, 0.0625, 12],
  cm: [0.5, 0.1, 5, 10],
};
const UNIT_M: Readonly<Record<Graduations, number>> = { in: 0.0254, cm: 0.01 };
const NOT_THE_UNIT = -3;
const GROUPED = -4;
const SURE = 8;

/**
 * Reads a ribbon's print: periods seen in short stretches, each followed along the ribbon, and for inches and centimetres
 * what those periods may be, scored by how exactly they repeat, what lies inside one period, and whether the ribbon
 * would have the width of a tape. Best first; empty when the print is not even.
 *
 * @param taperSd expected error of the ribbon's own foreshortening, as c
 */
export function readGraduations(
  photo: Raster,
  ribbon: Ribbon,
  colour: readonly [number, number, number],
  taperSd: number,
  camera: CameraHint,
): GraduationReading[] {
  const band = inkBand(photo, ribbon, colour);
  const mid = (ribbon.fromS + ribbon.toS) / 2;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const guess = Math.max(-0.8, Math.min(0.8, (ribbon.width[1] * half) / ribbon.scaleS / ribbonWidth(ribbon, mid)));
  const signals = groupSignals(band, Math.round(6 * ribbonWidth(ribbon, mid)));
  const reach = Math.min(0.12, Math.max(0.04, 3 * taperSd));
  const fits: EvenPrint[] = [];
  const width = ribbonWidth(ribbon, mid);
  let periods = localPeriods(signals, guess, reach, 6, width);
  // a tape that twists or lies half in soil tapers wrongly
  if ((periods[0]?.score ?? 0) < SURE) periods = localPeriods(signals, guess, 5 * reach, 6, width);
  for (const period of periods) {
    const followed = followPrint(band, signals, period.c, period.perT);
    const lost =
      followed === null ||
      followed.agreeing < 0.55 ||
      Math.abs(lengthOf(followed) / lengthOf(period) - 1) > 0.015 ||
      followed.spread > 0.25;
    if (followed !== null && !lost && followed.gain < 0.04) continue;
    fits.push({
      ...(lost ? unfollowed(period, followed?.agreeing ?? 0) : followed),
      score: period.score,
    });
  }
  const top = Math.max(1e-9, ...fits.map(worth));
  const [x, y] = ribbonPoint(ribbon, mid, 0);
  const readings: GraduationReading[] = [];
  for (const fit of fits) {
    const length = lengthOf(fit);
    for (const system of ['in', 'cm'] as const) {
      for (const part of [1, ...OTHER_PARTS[system]]) {
        const periodM = UNIT_M[system] * part;
        const plausible = tapeWidthLikelihood(
          {
            xPx: x - (photo.widthPx - 1) / 2,
            yPx: y - (photo.heightPx - 1) / 2,
            dirX: ribbon.dir[0],
            dirY: ribbon.dir[1],
            pxPerM: half / (fit.perT * periodM),
            widthPx: width,
            vanishPx: fit.c === 0 ? Number.POSITIVE_INFINITY : -half / fit.c,
          },
          camera,
        );
        const lean = Math.max(-0.45, Math.min(0.45, 0.2 * fit.lean));
        const inside =
          part === 1 ? (system === 'in' ? lean : -lean) + (groupedByFew(fit, fits) ? GROUPED : 0) : NOT_THE_UNIT;
        const score = Math.log(worth(fit) / top) + inside + plausible;
        readings.push({ system, periodM, fit, score, lengthM: length * periodM });
      }
    }
  }
  return readings.sort((a, b) => b.score - a.score);
}

/** Whether another period found is this one taken 2, 3, 4, 6 or 8 times: numbered units are not grouped so, their parts are. */
function groupedByFew(fit: EvenPrint, fits: readonly EvenPrint[]): boolean {
  return fits.some((f) => {
    const times = lengthOf(fit) / lengthOf(f);
    return (
      f.gain >= 0.06 &&
      f.agreeing >= 0.55 &&
      f.spread < 0.1 &&
      [2, 3, 4, 6, 8].some((m) => Math.abs(times / m - 1) < 0.02)
    );
  });
}

/** How well a period explains the print; least for a multiple or a part of the true one. */
function worth(fit: EvenPrint): number {
  return fit.score ** 5 * (Math.max(0.05, fit.gain) * Math.max(0.3, fit.agreeing)) ** 2.5;
}

function lengthOf(map: { readonly c: number; readonly perT: number }): number {
  return map.perT * (1 / (1 + map.c) + 1 / (1 - map.c));
}

/** Too little of the print could be followed: the map found from short stretches alone, good to about half a percent. */
function unfollowed(period: PeriodGuess, agreeing: number): FollowedPrint {
  const places = [-0.8, -0.4, 0, 0.4, 0.8].map((u) => ({
    u,
    reading: (period.perT * u) / (1 + period.c * u),
    weight: 1,
  }));
  return {
    c: period.c,
    perT: period.perT,
    offset: 0,
    likeness: 0,
    gain: 0.05,
    lean: 0,
    agreeing: Math.min(0.5, agreeing),
    spread: 0.5,
    lengthSdPeriods: 0.005 * lengthOf(period),
    places,
  };
}
