import { type Comb, findCombs } from './combSearch.ts';
import { type LineSpectrum, whitened } from './lineSpectrum.ts';

export type Graduations = 'in' | 'cm';

export const UNIT_M: Readonly<Record<Graduations, number>> = { in: 0.0254, cm: 0.01 };

/** Numbered marks that carry a larger sign: a foot, ten centimetres. */
const UNITS_PER_BIG: Readonly<Record<Graduations, number>> = { in: 12, cm: 10 };

/** One way to read an even pattern: what its period is. */
export interface UnitHypothesis {
  readonly system: Graduations;
  /** Cycles per unit of t of the pattern taken as one period, and the length of that period. */
  readonly perT: number;
  readonly periodM: number;
  /** Log evidence of the lines, after the lines that would contradict it. */
  readonly evidence: number;
  /** Log evidence of what lies inside one period and beside it (halves or fifths, feet or decimetres). */
  readonly structure: number;
  /** Whether the period is the numbered unit (inch, centimetre) itself. */
  readonly isUnit: boolean;
}

const CAP = 5;
const GROUP_SETS: readonly (readonly number[])[] = [[0, 1, 2, 3], [0], [3]];

/** Candidate periods of the print and the readings each admits in the wanted systems; strongest evidence first. */
export function unitHypotheses(spectrum: LineSpectrum, systems: readonly Graduations[]): UnitHypothesis[] {
  const all: UnitHypothesis[] = [];
  const perBin = 1 / (spectrum.size * spectrum.stepT);
  for (const groups of GROUP_SETS) {
    const z = whitened(spectrum, groups);
    const bases: number[] = [];
    for (const comb of findCombs(spectrum, groups, 4)) {
      for (const m of [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 0.5]) addBase(bases, comb, m, spectrum);
    }
    for (const base of bases) {
      const exact = refined(z, base / perBin, spectrum);
      for (const system of systems) {
        const lines = score(z, exact, spectrum, UNITS_PER_BIG[system]);
        const structure = inner(z, exact, spectrum, system);
        const others = system === 'in' ? [0.5, 0.25, 0.125, 0.0625, 12] : [0.5, 0.1, 10, 5];
        for (const part of [1, ...others]) {
          all.push({
            system,
            perT: exact * perBin,
            periodM: UNIT_M[system] * part,
            evidence: lines,
            structure: part === 1 ? structure : 0,
            isUnit: part === 1,
          });
        }
      }
    }
  }
  return all.sort((a, b) => b.evidence - a.evidence);
}

function addBase(bases: number[], comb: Comb, multiple: number, spectrum: LineSpectrum): void {
  const base = comb.perT * multiple;
  const length = spectrum.samples * spectrum.stepT;
  if (base * length < 5 || base * spectrum.stepT > 0.45) return;
  if (bases.some((b) => Math.abs(b - base) * length < 0.3)) return;
  bases.push(base);
}

/** Fine-tunes a fundamental (in bins) on its strongest few harmonics. */
function refined(z: Float32Array, base: number, spectrum: LineSpectrum): number {
  const pad = spectrum.size / spectrum.samples;
  const last = Math.floor(0.46 * spectrum.size);
  let best = base;
  let top = Number.NEGATIVE_INFINITY;
  for (let d = -6; d <= 6; d++) {
    const b = base + (d * pad) / 12;
    let sum = 0;
    for (let k = 1; k * b < last && k <= 16; k++) sum += Math.log(Math.max(0.1, at(z, k * b)));
    if (sum > top) {
      top = sum;
      best = b;
    }
  }
  return best;
}

function at(z: Float32Array, place: number): number {
  const k = Math.floor(place);
  if (k < 0 || k + 1 >= z.length) return 0.1;
  const f = place - k;
  return Math.max(z[k]! * (1 - f) + z[k + 1]! * f, Math.max(z[k]!, z[k + 1]!) * 0.8);
}

/** Lines at multiples of the unit, less lines halfway between them that the marks of feet or decimetres do not explain. */
function score(z: Float32Array, base: number, spectrum: LineSpectrum, perBig: number): number {
  const last = 0.46 * spectrum.size;
  const log = (place: number): number => Math.min(CAP, Math.log(Math.max(0.1, at(z, place))));
  let sum = 0;
  for (let k = 1; k * base < last && k <= 24; k++) {
    sum += log(k * base) - 0.9;
    const between = log((k - 0.5) * base);
    const lattice = Math.max(log((k - 1 + 1 / perBig) * base), log((k - 1 / perBig) * base));
    sum -= Math.max(0, between - Math.max(1.4, lattice));
  }
  return sum;
}

/** Evidence for the parts of an inch (halves, quarters, eighths) against those of a centimetre (halves, tenths). */
function inner(z: Float32Array, base: number, spectrum: LineSpectrum, system: Graduations): number {
  const last = 0.46 * spectrum.size;
  const mean = (ks: readonly number[]): number => {
    const in0 = ks.filter((k) => k * base < last);
    if (in0.length === 0) return Number.NaN;
    return in0.reduce((sum, k) => sum + Math.min(6, Math.log(Math.max(0.3, at(z, k * base)))), 0) / in0.length;
  };
  // ticks at binary parts raise every fourth line, ticks at tenths the tenth; halves raise all even lines alike
  const fours = mean([4, 8, 12, 16]);
  const twos = mean([2, 6, 10, 14]);
  const tens = mean([10, 20]);
  const sixteens = mean([8, 16]);
  let lean = 0;
  if (Number.isFinite(fours) && last / base > 6) lean += fours - twos;
  if (Number.isFinite(tens) && Number.isFinite(sixteens) && last / base > 10) lean += sixteens - tens;
  const feet = mean([1, 2, 4, 5, 7, 8, 10, 11].map((j) => j / 12));
  const decimetres = mean([1, 2, 3, 4, 6, 7, 8, 9].map((j) => j / 10));
  if (Number.isFinite(feet) && Number.isFinite(decimetres)) lean += Math.max(-2, Math.min(2, feet - decimetres));
  return Number.isFinite(lean) ? (system === 'in' ? lean : -lean) : 0;
}
