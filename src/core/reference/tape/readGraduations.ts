import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { METRES_PER_CENTIMETRE, METRES_PER_FOOT } from '../../units/conversions.ts';
import { median } from '../line/contrastDirection.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import { type FollowedPrint, followPrint, RESOLVED_PX } from './followPrint.ts';
import { cutSignal, groupSignals } from './groupSignals.ts';
import { type InkBand, inkBand } from './inkBand.ts';
import { isEven } from './isEven.ts';
import { localPeriods, type PeriodGuess } from './localPeriods.ts';
import { type LongMarks, longMarks } from './longMarks.ts';
import { type EvenPrint, type Graduations, lengthOf, possibleReadings } from './possibleReadings.ts';
import { type CameraHint, tapeWidthLikelihood } from './tapeWidth.ts';
import { trackPeriods } from './trackPeriods.ts';
import { weighedMap } from './weighedMap.ts';
import { wholePeriods } from './wholePeriods.ts';

export type { Graduations } from './possibleReadings.ts';

/** One reading of a ribbon's print as graduations. */
export interface GraduationReading {
  readonly system: Graduations;
  /** Length of one period of the print under this reading. */
  readonly periodM: number;
  readonly fit: EvenPrint;
  /** Log score against the other readings of the same print. */
  readonly score: number;
  /** Whether more than its width speaks for the unit: parts or long marks that only this one has. */
  readonly unitShown: boolean;
  /** Metres end to end of the ribbon. */
  readonly lengthM: number;
}

/** Marks longer or redder than others stand a foot or 10 cm apart. */
const LONG_M: Readonly<Record<Graduations, number>> = {
  in: METRES_PER_FOOT,
  cm: 10 * METRES_PER_CENTIMETRE,
};
const SURE = 8;
/** Long marks that stand out so far are no chance. */
const SHOWN = 0.8;
/** Some period must stand out so far from chance in short stretches: hoses and straws reach 4, tapes have 7 and more. */
const LEAST_CLEAR = 6;
/**
 * How far half of a tape's columns depart from its mean, log units: 0.03 and more along one edge at least, faded and
 * overexposed tapes among them; 0.01 on bare rods and frames (rendered ones).
 */
const LEAST_INK = 0.018;
/** Print followed along less of the ribbon than this may be dirty. */
const MOSTLY = 0.6;

/**
 * Reads a ribbon's print: periods seen in short stretches, each followed along the ribbon, and for inches and centimetres
 * what those periods may be, scored by how exactly they repeat, what lies inside one period, and whether the ribbon
 * would have the width of a tape. Best first; empty when the print is not even. Where the print cannot be followed along
 * most of it, it is looked at once more with crumbs and other dark spots cut down to the size of marks.
 *
 * @param taperSd expected error of the ribbon's own foreshortening, as c
 * @param faint whether somebody said that a tape is there: then print that no short stretch shows is looked for over the
 * whole ribbon at once
 */
export function readGraduations(
  photo: Raster,
  ribbon: Ribbon,
  colour: readonly [number, number, number],
  taperSd: number,
  camera: CameraHint,
  faint = true,
): GraduationReading[] {
  const band = inkBand(photo, ribbon, colour);
  const signals = groupSignals(band, Math.round(6 * ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2)));
  if (!isPrinted(signals)) return [];
  const whole = readSignals(photo, ribbon, band, signals, taperSd, camera);
  const seen = whole[0];
  if (seen?.fit.followed === true && seen.fit.agreeing >= MOSTLY) return whole;
  const even = signals.map(cutSignal);
  const cut = readSignals(photo, ribbon, band, even, taperSd, camera);
  if (faint && seen === undefined && cut[0] === undefined)
    return readSignals(photo, ribbon, band, even, taperSd, camera, true);
  return cut[0] !== undefined && cut[0].score > (seen?.score ?? Number.NEGATIVE_INFINITY) ? cut : whole;
}

/** Whether there is ink at all: a bare rod's shading may repeat evenly too, but is far fainter. */
function isPrinted(signals: readonly Float32Array[]): boolean {
  return signals.some(
    (signal) =>
      median(
        Array.from(signal)
          .filter((v) => v !== 0)
          .map(Math.abs),
      ) > LEAST_INK,
  );
}

function readSignals(
  photo: Raster,
  ribbon: Ribbon,
  band: InkBand,
  signals: readonly Float32Array[],
  taperSd: number,
  camera: CameraHint,
  overWhole = false,
): GraduationReading[] {
  const mid = (ribbon.fromS + ribbon.toS) / 2;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const guess = Math.max(-0.8, Math.min(0.8, (ribbon.width[1] * half) / ribbon.scaleS / ribbonWidth(ribbon, mid)));
  const reach = Math.min(0.12, Math.max(0.04, 3 * taperSd));
  const fits: EvenPrint[] = [];
  const width = ribbonWidth(ribbon, mid);
  let periods = overWhole
    ? wholePeriods(signals, guess, reach, 6, width, ribbon.dir)
    : localPeriods(signals, guess, reach, 6, width);
  // a tape that twists or lies half in soil tapers wrongly
  if (!overWhole && (periods[0]?.score ?? 0) < SURE) periods = localPeriods(signals, guess, 5 * reach, 6, width);
  const faint = new Map<EvenPrint, PeriodGuess>();
  for (const period of periods) {
    const print = followedOrTracked(band, signals, period);
    if (print === null || print.gain < 0.04) continue;
    const even = isEven(print);
    const map = even && isResolved(print, band.columns) ? print : weighedMap(print, period, even ? print : null);
    if (map === null) continue;
    const fit = { ...map, score: period.score };
    fits.push(fit);
    if (map !== print) faint.set(fit, period);
  }
  if (!fits.some((fit) => fit.score >= LEAST_CLEAR)) return [];
  const [x, y] = ribbonPoint(ribbon, mid, 0);
  const marked = new Map<EvenPrint, LongMarks>(
    fits.map((fit) => [fit, fit.followed ? longMarks(band, fit) : () => null]),
  );
  const readings = possibleReadings(fits).map(({ system, fit, unit, lengthM, ownParts, worth }): GraduationReading => {
    const periodM = lengthM / lengthOf(fit);
    const plausible = tapeWidthLikelihood(
      {
        xPx: x - (photo.widthPx - 1) / 2,
        yPx: y - (photo.heightPx - 1) / 2,
        dirX: ribbon.dir[0],
        dirY: ribbon.dir[1],
        pxPerM: half / (fit.perT * periodM),
        widthPx: width,
        vanishPx: fit.c === 0 ? Number.POSITIVE_INFINITY : -half / fit.c,
        diagonalPx: norm(photo.widthPx, photo.heightPx),
      },
      camera,
    );
    const lean = unit === null ? 0 : Math.max(-0.45, Math.min(0.45, 0.2 * unit.lean));
    const stands = marked.get(fit)!(LONG_M[system] / periodM);
    const long = longMarkWorth(system, stands);
    const score = worth + (system === 'in' ? lean : -lean) + plausible + long;
    return {
      system,
      periodM,
      fit,
      score,
      unitShown: ownParts || isShown(marked.get(fit)!, LONG_M[system] / periodM),
      lengthM,
    };
  });
  readings.sort((a, b) => b.score - a.score);
  const finer = new Map<EvenPrint, EvenPrint>();
  let clearOverWhole: readonly PeriodGuess[] | null = null;
  for (const { fit, score } of readings) {
    const period = faint.get(fit);
    if (period === undefined || finer.has(fit) || score < readings[0]!.score - LIKELY) continue;
    const together = followPrint(band, signals, period.c, period.perT, true);
    const near = together !== null && Math.abs(lengthOf(together) / lengthOf(period) - 1) < NEAR ? together : null;
    clearOverWhole ??= wholePeriods(signals.map(cutSignal), guess, reach, 6, width, ribbon.dir).filter(isSure);
    const whole = clearOverWhole.find((w) => Math.abs(lengthOf(w) / lengthOf(period) - 1) < NEAR) ?? null;
    finer.set(fit, { ...fit, ...weighedMap(fit, period, near, whole) });
  }
  return readings.map((reading) => {
    const fit = finer.get(reading.fit) ?? reading.fit;
    return { ...reading, fit, lengthM: reading.periodM * lengthOf(fit) };
  });
}

/** Whether long marks stand out, and more than at distances a unit shorter or longer, which no tape has. */
function isShown(marks: LongMarks, every: number): boolean {
  const own = marks(every);
  return own !== null && own > SHOWN + Math.max(0, marks(every - 1) ?? 0, marks(every + 1) ?? 0);
}

/** Centimetres are never marked by twelves; inches are by tens where their figures run on, so tens say less. */
function longMarkWorth(system: Graduations, stands: number | null): number {
  return stands === null ? 0 : Math.max(-0.3, Math.min(2.5, stands)) * (system === 'in' ? 1.6 : 1);
}

/**
 * A period followed along the band: from the smooth map, else from the local periods tracked along it. Where neither can
 * be followed but short stretches show the period clearly, that stands without its phases.
 */
function followedOrTracked(band: InkBand, signals: readonly Float32Array[], period: PeriodGuess): FollowedPrint | null {
  const smooth = followPrint(band, signals, period.c, period.perT);
  const smoothSound = smooth !== null && isFollowed(smooth, lengthOf(period));
  if (smoothSound && smooth.agreeing > 0.7 && isEven(smooth)) return smooth;
  const phase = trackPeriods(signals, period.c, period.perT);
  if (phase === null) return smoothSound ? smooth : null;
  const length = phase[phase.length - 1]! - phase[0]!;
  const tracked = followPrint(band, signals, period.c, period.perT, false, phase);
  const sound = [
    ...(smoothSound ? [smooth] : []),
    ...(tracked !== null && isFollowed(tracked, length) ? [tracked] : []),
  ].sort((a, b) => b.agreeing * b.likeness - a.agreeing * a.likeness);
  return sound[0] ?? (period.score >= LEAST_CLEAR ? unfollowed(period, smooth) : null);
}

/** A print is followed when most of it agrees, or less of it very evenly, and it leads where its start said. */
function isFollowed(print: FollowedPrint, length: number): boolean {
  const even = print.agreeing >= 0.55 ? 0.25 : print.agreeing >= 0.35 ? 0.065 : 0;
  return print.spread < even && Math.abs(lengthOf(print) - length) < Math.max(0.015 * length, 2);
}

/** Whether marks are resolved from end to end of the band. */
function isResolved({ c, perT }: FollowedPrint, columns: number): boolean {
  return (columns / 2 / perT) * square(1 - Math.abs(c)) >= RESOLVED_PX;
}

/** Periods over the whole band so clear (power 38, see wholePeriods) have no rival beside them; fainter ones may be 2 % off. */
const SURE_OVER_WHOLE = 6.8;
const isSure = ({ score }: PeriodGuess): boolean => score >= SURE_OVER_WHOLE;

/** Readings whose score is within this of the best are made as fine as may be. */
const LIKELY = 4;
/** Phases that lead to lengths farther off than this are of another print. */
const NEAR = 0.03;

function unfollowed(period: PeriodGuess, smooth: FollowedPrint | null): FollowedPrint {
  return {
    c: period.c,
    perT: period.perT,
    offset: 0,
    likeness: 0,
    gain: 0.05,
    lean: 0,
    agreeing: Math.min(0.5, smooth?.agreeing ?? 0),
    followed: false,
    spread: 0.1,
    lengthSdPeriods: 0,
    places: smooth?.places ?? [],
  };
}
