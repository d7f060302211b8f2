import { square } from '../../statistics/square.ts';
import { METRES_PER_CENTIMETRE, METRES_PER_INCH } from '../../units/conversions.ts';
import type { FollowedPrint } from './followPrint.ts';

export type Graduations = 'in' | 'cm';

/** An even print and how far its short stretches stand out from chance. */
export interface EvenPrint extends FollowedPrint {
  readonly score: number;
}

/** One way to read all periods of a print at once, before the width of the tape and its longer marks are weighed. */
export interface PossibleReading {
  readonly system: Graduations;
  /** The print that gives the readings. */
  readonly fit: EvenPrint;
  /** The print of the numbered unit itself, where it was seen. */
  readonly unit: EvenPrint | null;
  /** Metres end to end. */
  readonly lengthM: number;
  /** Whether parts were seen that the other system has not: quarters of an inch, tenths of a centimetre. */
  readonly ownParts: boolean;
  /** Log score of how well the periods seen are those of such a tape. */
  readonly worth: number;
}

export const GRADUATION_M: Readonly<Record<Graduations, number>> = { in: METRES_PER_INCH, cm: METRES_PER_CENTIMETRE };
/** What a period may be, in units. */
const PARTS: Readonly<Record<Graduations, readonly number[]>> = {
  in: [1, 0.5, 0.25, 0.125, 0.0625, 12],
  cm: [1, 0.5, 0.1, 5, 10],
};
/** Parts that only this system has. */
const OWN_PARTS: Readonly<Record<Graduations, readonly number[]>> = { in: [0.25, 0.125, 0.0625], cm: [0.1, 0.2] };
/** Equal cuts of a unit that either system has: others are overtones of marks, not marks. */
const CUTS: Readonly<Record<Graduations, readonly number[]>> = { in: [2, 4, 8, 16], cm: [2, 5, 10] };
/** Units taken so many times are not marked alike: a print that is was one of parts. */
const GROUPS = [2, 3, 4, 6, 8];
const SAME = 0.015;

const UNIT_NOT_SEEN = -3;
/**
 * Strips marked every two centimetres only. None is known that carries figures as tapes do; of bare marks nobody can say
 * whether they are inches.
 */
const TWO_CM = 2;
const TWO_CM_WITH_FIGURES = -4.5;
/** Stretches of bare marks are alike to 0.9 and more, those with figures to 0.6 at best (drawn and rendered tapes). */
const ALL_ALIKE = 0.75;
/** A period so much clearer than chance (4 at most) is a mark of the tape, and the reading must explain it. */
const CLEAR_SCORE = 7;
const UNEXPLAINED = -10;
/** Fine parts, followed from short stretches alone, slip by a few per cent. */
const NEARLY_WHOLE = 0.05;
const NOT_BY_THE_UNIT = -0.5;
const GROUPED = -4;
const OWN_PART = 0.8;
/** Periods of two systems on one tape: so far from chance, and so exactly in ratio. */
const CLEAR_OF_BOTH = 5;
const SAME_OF_BOTH = 0.008;
const CARRIES_BOTH = 3;

/**
 * Every reading of a print in inches and centimetres: a scale at which each period seen is a unit, a part or a known
 * multiple. A tape shows its numbered unit; inches are halved again and again, centimetres are cut in tens; neither
 * groups its units by two, three or four.
 */
export function possibleReadings(fits: readonly EvenPrint[]): PossibleReading[] {
  const top = Math.max(1e-9, ...fits.map(strength));
  const logOf = (fit: EvenPrint): number => Math.log(strength(fit) / top);
  const clearest = best(fits, (fit) => fit.score);
  const out: PossibleReading[] = [];
  for (const system of ['in', 'cm'] as const) {
    for (const fit of fits) {
      for (const part of PARTS[system]) {
        const lengthM = lengthOf(fit) * GRADUATION_M[system] * part;
        const inUnits = (f: EvenPrint): number => lengthM / lengthOf(f) / GRADUATION_M[system];
        const near = (f: EvenPrint, m: number): boolean => Math.abs(inUnits(f) / m - 1) < SAME;
        const unit = best(
          fits.filter((f) => near(f, 1)),
          logOf,
        );
        const sure = unit?.followed && unit.gain >= 0.06;
        const both = carriesBoth(fits, system, lengthM);
        const parted = (s: Graduations, f: EvenPrint): boolean =>
          PARTS[s].some((m) => m <= 1 && near(f, (m * GRADUATION_M[s]) / GRADUATION_M[system]));
        const explained = fits.filter((f) => parted(system, f) || (both && parted(system === 'in' ? 'cm' : 'in', f)));
        const base = both
          ? CARRIES_BOTH + Math.max(...explained.map(logOf))
          : sure
            ? Math.max(logOf(unit), NOT_BY_THE_UNIT + Math.max(...explained.map(logOf)))
            : logOf(unit ?? fit) + (unit === null ? UNIT_NOT_SEEN : 0);
        const grouped = both
          ? 0
          : Math.max(0, ...fits.filter((f) => GROUPS.some((m) => near(f, m))).map((f) => alike(f, unit ?? fit)));
        const isOvertone = (f: EvenPrint): boolean =>
          fits.some((g) => {
            const cuts = Math.round(1 / inUnits(g));
            const between = cuts > 2 && inUnits(g) > 1.2 * inUnits(f) && near(g, 1 / cuts);
            return between && g.score >= f.score && !CUTS[system].includes(cuts);
          });
        const parts = !sure
          ? 0
          : fits.filter((f) => isClear(f) && OWN_PARTS[system].some((m) => near(f, m)) && !isOvertone(f)).length;
        const m = clearest === null ? 1 : inUnits(clearest);
        const whole = Math.max(m, 1 / m);
        const explains =
          clearest === null ||
          clearest.score < CLEAR_SCORE ||
          (both && explained.includes(clearest)) ||
          Math.abs(Math.round(whole) / whole - 1) < NEARLY_WHOLE;
        const worth = base + GROUPED * grouped + OWN_PART * Math.min(2, parts) + (explains ? 0 : UNEXPLAINED);
        const byUnit = unit?.followed === true;
        const reading = {
          fit: byUnit ? unit : fit,
          unit,
          lengthM: byUnit ? lengthOf(unit) * GRADUATION_M[system] : lengthM,
          ownParts: parts > 0 || both,
          worth,
        };
        out.push({ system, ...reading });
        if (both) out.push({ system: system === 'in' ? 'cm' : 'in', ...reading });
      }
    }
  }
  return distinct([...out, ...everyTwoCm(fits, logOf)]);
}

function everyTwoCm(fits: readonly EvenPrint[], logOf: (fit: EvenPrint) => number): PossibleReading[] {
  return fits.map((fit) => ({
    system: 'cm',
    fit,
    unit: null,
    lengthM: lengthOf(fit) * TWO_CM * GRADUATION_M.cm,
    ownParts: false,
    worth: logOf(fit) + (fit.likeness > ALL_ALIKE ? 0 : TWO_CM_WITH_FIGURES),
  }));
}

/**
 * Many tapes carry inches along one edge and centimetres along the other. Where one scale makes clear periods parts of
 * both, it is that of either: no parts of one system stand in such ratios to one another (2.54, 1.27, 3.175).
 */
function carriesBoth(fits: readonly EvenPrint[], system: Graduations, lengthM: number): boolean {
  const other = system === 'in' ? 'cm' : 'in';
  const off = (f: EvenPrint, s: Graduations): number =>
    Math.min(...PARTS[s].filter((m) => m <= 1).map((m) => Math.abs(lengthM / lengthOf(f) / GRADUATION_M[s] / m - 1)));
  const clear = fits.filter((f) => f.score >= CLEAR_OF_BOTH && f.gain >= 0.06 && f.agreeing >= 0.35);
  const theirs = (s: Graduations, not: Graduations): boolean =>
    clear.some((f) => off(f, s) < SAME_OF_BOTH && off(f, not) > SAME);
  const isUnit = (f: EvenPrint, s: Graduations): boolean =>
    Math.abs(lengthM / lengthOf(f) / GRADUATION_M[s] - 1) < SAME;
  return theirs(system, other) && theirs(other, system) && clear.some((f) => isUnit(f, 'in') || isUnit(f, 'cm'));
}

/** Readings of one system and nearly one length are one: the best of them. */
function distinct(readings: readonly PossibleReading[]): PossibleReading[] {
  const kept: PossibleReading[] = [];
  for (const r of [...readings].sort((a, b) => b.worth - a.worth)) {
    if (!kept.some((k) => k.system === r.system && Math.abs(k.lengthM / r.lengthM - 1) < SAME)) kept.push(r);
  }
  return kept;
}

/** How surely (0 to 1) a print that takes several periods at once is more than a multiple of the shorter one. */
function alike(longer: EvenPrint, shorter: EvenPrint): number {
  if (!isClear(longer)) return 0;
  // figures, odd and even in turn, make every second centimetre a little alike
  // of a print whose phase was lost nobody knows how alike it is
  const better = shorter.followed ? (longer.likeness - shorter.likeness) / 0.03 : 0;
  const gains = (longer.gain - 0.22) / 0.08;
  return Math.max(0, Math.min(1, Math.max(longer.gain >= 0.06 ? better : 0, gains)));
}

function isClear(fit: EvenPrint): boolean {
  return fit.followed && fit.gain >= 0.06 && fit.agreeing >= 0.35 && fit.spread < 0.12;
}

/** How well a period explains the print; least for a multiple or a part of the true one. */
function strength(fit: EvenPrint): number {
  const clear = Math.max(0.05, fit.gain) * Math.max(0.3, fit.agreeing);
  return fit.score * square(square(fit.score)) * square(clear) * Math.sqrt(clear);
}

function best(fits: readonly EvenPrint[], value: (fit: EvenPrint) => number): EvenPrint | null {
  return fits.reduce<EvenPrint | null>((a, b) => (a === null || value(b) > value(a) ? b : a), null);
}

/** Periods end to end. */
export function lengthOf(map: { readonly c: number; readonly perT: number }): number {
  return map.perT * (1 / (1 + map.c) + 1 / (1 - map.c));
}
