import { norm } from '../../geometry/norm.ts';
import type { Raster } from '../../raster/raster.ts';
import { square } from '../../statistics/square.ts';
import { ribbonOutline, ribbonWidth } from '../line/ribbon.ts';
import type { CameraCues, FoundLine } from '../reference.ts';
import { graduatedLine } from '../tape/graduatedLine.ts';
import { metresAlong } from '../tape/metresAlong.ts';
import { type GraduationReading, readGraduations } from '../tape/readGraduations.ts';
import { type RibbonCandidate, tapeRibbons } from '../tape/tapeRibbons.ts';
import { liesOn, placeAlong } from './liesOn.ts';

/** Print and marks that differ by more are not read alike: another unit, or a mark typed wrongly. */
const ALIKE = 0.015;
/** Print that differs from the marks by more than so many times the doubt of both does not take part in the scale. */
const DISAGREE = 3;
/** What repeats at longer distances alone may be the bands of a rod. */
const LONGEST_PERIOD_M = 0.03;

/**
 * The tape that hand marks lie on, if any: its print, read in the unit that the marks say, shows how readings crowd
 * between and beyond the marks. The scale is the marks', made finer by the print where both agree within their doubt. Print
 * that is not clear gives no readings, and may be chance: then something else may lie there.
 */
export function markedTape(
  photo: Raster,
  line: FoundLine,
  camera: Pick<CameraCues, 'focalPx' | 'heightM' | 'heightSdM'>,
): { readonly clear: boolean; readonly line: FoundLine } | null {
  for (const candidate of tapeRibbons(photo, line.endsPx)) {
    const { ribbon, colour } = candidate.extent;
    if (!liesOn(line, ribbon)) continue;
    const taperSd = candidate.traced.taperSdPx / ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
    const readings = readGraduations(photo, ribbon, colour, taperSd, camera);
    const alike = readings
      .filter((reading) => reading.periodM < LONGEST_PERIOD_M)
      .map((reading) => ({ reading, fit: marksOnPrint(line, candidate, reading) }))
      .find(({ fit }) => Math.abs(Math.abs(fit.perMetre) - 1) < ALIKE);
    if (alike === undefined) continue;
    return isClear(alike.reading)
      ? { clear: true, line: readAs(line, candidate, alike.reading, alike.fit) }
      : { clear: false, line: { ...line, on: 'tape', coveredPx: covered(candidate) } };
  }
  return null;
}

function isClear({ fit }: GraduationReading): boolean {
  return fit.followed && fit.agreeing > 0.6 && fit.gain > 0.12 && fit.spread < 0.1;
}

/** Marked reading = atZero + perMetre x metres of the print, with the doubt of perMetre. */
interface MarksOnPrint {
  readonly atZero: number;
  readonly perMetre: number;
  readonly sd: number;
}

function marksOnPrint(line: FoundLine, { extent }: RibbonCandidate, reading: GraduationReading): MarksOnPrint {
  const { ribbon } = extent;
  const points = line.readings.map(({ xPx, yPx, readingM, sdPx }) => {
    const s = placeAlong(ribbon, [xPx, yPx]);
    const printM = metresAlong(ribbon, reading, s);
    const mPerPx = (metresAlong(ribbon, reading, s + 1) - metresAlong(ribbon, reading, s - 1)) / 2;
    return { printM, readingM, weight: 1 / square(sdPx * mPerPx) };
  });
  const total = points.reduce((sum, p) => sum + p.weight, 0);
  const meanPrint = points.reduce((sum, p) => sum + p.weight * p.printM, 0) / total;
  const meanRead = points.reduce((sum, p) => sum + p.weight * p.readingM, 0) / total;
  const spread = points.reduce((sum, p) => sum + p.weight * square(p.printM - meanPrint), 0);
  const joint = points.reduce((sum, p) => sum + p.weight * (p.printM - meanPrint) * (p.readingM - meanRead), 0);
  const perMetre = joint / spread;
  return { atZero: meanRead - perMetre * meanPrint, perMetre, sd: 1 / Math.sqrt(spread) };
}

function readAs(line: FoundLine, candidate: RibbonCandidate, reading: GraduationReading, fit: MarksOnPrint): FoundLine {
  const { ribbon } = candidate.extent;
  const print = graduatedLine(candidate.extent, candidate.traced, reading, []);
  const printSd = print.lengthErrorMm / 1000 / reading.lengthM;
  const way = Math.sign(fit.perMetre);
  const agree = Math.abs(Math.abs(fit.perMetre) - 1) < DISAGREE * norm(printSd, fit.sd);
  const share = agree ? square(fit.sd) / (square(fit.sd) + square(printSd)) : 0;
  const perMetre = way * ((1 - share) * Math.abs(fit.perMetre) + share);
  const sd = agree ? (fit.sd * printSd) / norm(fit.sd, printSd) : fit.sd;
  const [fromM, toM] = line.endsM;
  const middle = (fromM + toM) / 2;
  const readAt = (s: number): number =>
    middle + perMetre * (metresAlong(ribbon, reading, s) - (middle - fit.atZero) / fit.perMetre);
  const readings = print.readings
    .map((r) => ({ ...r, readingM: readAt(placeAlong(ribbon, [r.xPx, r.yPx])) }))
    .sort((a, b) => a.readingM - b.readingM);
  return {
    ...line,
    on: 'tape',
    readings,
    lengthErrorMm: 1000 * sd * (toM - fromM),
    coveredPx: covered(candidate),
    warnings: agree
      ? line.warnings
      : [
          ...line.warnings,
          {
            code: 'marks-off-print',
            message: `The print on the tape and the marks differ by ${(100 * Math.abs(Math.abs(fit.perMetre) - 1)).toFixed(1)} %: the marks are taken; check them.`,
          },
        ],
  };
}

function covered({ extent, traced }: RibbonCandidate): FoundLine['coveredPx'] {
  return [ribbonOutline(extent.ribbon, 1 + 2 * traced.edgeSpreadPx)];
}
