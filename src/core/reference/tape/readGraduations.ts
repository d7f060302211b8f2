import type { Raster } from '../../raster/raster.ts';
import { type Ribbon, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import { evenestForeshortening } from './combSearch.ts';
import { foldPeriod } from './foldPeriod.ts';
import { type InkBand, inkBand } from './inkBand.ts';
import { groupSignals } from './lineSpectrum.ts';
import { type CameraHint, tapeWidthLikelihood } from './tapeWidth.ts';
import { type GraduationFit, trackGraduations } from './trackGraduations.ts';
import { type Graduations, type UnitHypothesis, unitHypotheses } from './unitHypotheses.ts';

/** One reading of a ribbon's print as graduations. */
export interface GraduationReading {
  readonly system: Graduations;
  readonly periodM: number;
  readonly fit: GraduationFit;
  /** Log score against the other readings of the same print. */
  readonly score: number;
  readonly gain: number;
  /** Metres end to end of the ribbon. */
  readonly lengthM: number;
}

export interface GraduationReadings {
  readonly band: InkBand;
  /** Best first; empty when the print is not even. */
  readonly readings: readonly GraduationReading[];
  /** Share of the print explained by the most even period found, even if too little to trust. */
  readonly evenness: number;
}

const NOT_THE_UNIT = -3;
const LEAST_LIKENESS = 0.12;

/**
 * Reads a ribbon's print: the foreshortening that makes it most even, the periods in it, and for each wanted system what
 * those periods may be, scored by how exactly they repeat, what lies inside one period, and whether the ribbon would have
 * the width of a tape.
 *
 * @param taperSd expected error of the ribbon's own foreshortening, as c
 */
export function readGraduations(
  photo: Raster,
  ribbon: Ribbon,
  colour: readonly [number, number, number],
  taperSd: number,
  systems: readonly Graduations[],
  camera: CameraHint,
): GraduationReadings {
  const band = inkBand(photo, ribbon, colour);
  const mid = (ribbon.fromS + ribbon.toS) / 2;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const guess = Math.max(-0.8, Math.min(0.8, (ribbon.width[1] * half) / ribbon.scaleS / ribbonWidth(ribbon, mid)));
  const signals = groupSignals(band, Math.round(6 * ribbonWidth(ribbon, mid)));
  const found: { hypothesis: UnitHypothesis; fit: GraduationFit; gain: number }[] = [];
  const parts = Math.abs(guess) > 0.2 ? ['all', 'near'] : ['all'];
  let evenness = 0;
  for (const part of parts) {
    const used = part === 'all' ? signals : signals.map((s) => nearPart(s, guess));
    const { spectrum } = evenestForeshortening(used, guess, Math.min(0.12, Math.max(0.02, 3 * taperSd)));
    const all = unitHypotheses(spectrum, systems);
    const hypotheses = all.filter((h) => h.isUnit && h.evidence > 1.5);
    const periods: { perT: number; gain: number; explained: number }[] = [];
    for (const h of hypotheses) {
      if (periods.some((p) => Math.abs(p.perT / h.perT - 1) < 0.004)) continue;
      if (periods.length >= 24) break;
      periods.push({ perT: h.perT, ...foldPeriod(band, used, spectrum.c, h.perT) });
    }
    periods.sort((a, b) => b.gain - a.gain);
    for (const period of periods.slice(0, 4)) {
      const fit = trackGraduations(band, signals, spectrum.c, period.perT);
      if (fit === null) continue;
      const folded = foldPeriod(band, signals, fit.c, fit.perT);
      evenness = Math.max(evenness, folded.explained);
      if (fit.likeness < LEAST_LIKENESS || fit.agreeing < 0.55 || folded.gain < 0.01) continue;
      for (const h of all) {
        if (Math.abs(h.perT / period.perT - 1) > 0.004) continue;
        if (found.some((f) => sameReading(f, h, fit))) continue;
        found.push({ hypothesis: h, fit, gain: folded.gain });
      }
    }
  }
  const top = Math.max(1e-6, ...found.map((f) => f.gain * f.fit.agreeing));
  const readings = found.map(({ hypothesis, fit, gain }) => {
    const periods = fit.perT * (1 / (1 + fit.c) + 1 / (1 - fit.c));
    const [x, y] = ribbonPoint(ribbon, mid, 0);
    const width = tapeWidthLikelihood(
      {
        xPx: x - (photo.widthPx - 1) / 2,
        yPx: y - (photo.heightPx - 1) / 2,
        dirX: ribbon.dir[0],
        dirY: ribbon.dir[1],
        pxPerM: half / (fit.perT * hypothesis.periodM),
        widthPx: ribbonWidth(ribbon, mid),
        vanishPx: fit.c === 0 ? Number.POSITIVE_INFINITY : -half / fit.c,
      },
      camera,
    );
    const score =
      2.5 * Math.log((gain * fit.agreeing) / top) +
      (hypothesis.isUnit ? Math.max(-2.5, Math.min(2.5, hypothesis.structure * 0.5)) : NOT_THE_UNIT) +
      width;
    return {
      system: hypothesis.system,
      periodM: hypothesis.periodM,
      fit,
      score,
      gain,
      lengthM: periods * hypothesis.periodM,
    };
  });
  readings.sort((a, b) => b.score - a.score);
  return { band, readings, evenness };
}

function sameReading(
  f: { hypothesis: UnitHypothesis; fit: GraduationFit },
  h: UnitHypothesis,
  fit: GraduationFit,
): boolean {
  return (
    f.hypothesis.system === h.system &&
    f.hypothesis.periodM === h.periodM &&
    Math.abs(f.fit.perT / fit.perT - 1) < 1e-3 &&
    Math.abs(f.fit.c - fit.c) < 1e-3
  );
}

/** The signal with the half of the ribbon farther away blanked: there fine print may be lost. */
function nearPart(signal: Float32Array, c: number): Float32Array {
  const out = Float32Array.from(signal);
  const cut = Math.round(signal.length * 0.5);
  // width grows as 1 + c u: the wide end is near
  if (c > 0) out.fill(0, 0, signal.length - cut);
  else out.fill(0, cut);
  return out;
}
