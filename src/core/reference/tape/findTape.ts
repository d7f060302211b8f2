import type { Raster } from '../../raster/raster.ts';
import { alongside } from '../line/alongside.ts';
import { ribbonWidth } from '../line/ribbon.ts';
import type { CameraCues, FoundLine, NoReference, Warning } from '../reference.ts';
import { graduatedLine } from './graduatedLine.ts';
import { GRADUATION_M } from './possibleReadings.ts';
import { type GraduationReading, type Graduations, readGraduations } from './readGraduations.ts';
import { tapeOfLength } from './tapeOfLength.ts';
import { tapeRibbons } from './tapeRibbons.ts';

export type TapeRequest =
  | { readonly kind: 'auto' }
  | { readonly kind: 'tape'; readonly graduations: Graduations }
  | { readonly kind: 'tape'; readonly lengthM: number };

/** Two readings whose scores differ by less than this are both possible: by e^3.2, about 25 to 1. */
const CLEAR = 3.2;
/** Where nothing but the tape's width tells the unit, tapes of odd widths are a risk. */
const CLEAR_BY_WIDTH = 6.5;
/** Where nobody said that a tape is there, its numbered unit must be seen (`UNIT_NOT_SEEN` costs 3). */
const LEAST_UNASKED = -2.5;
/** The unit as named, so many marks to it are settled sooner. */
const CLEAR_WITHIN_UNIT = 2;
/** The border of a shadow has one edge: of two hardly half are found. */
const BOTH_EDGES = 0.55;

/**
 * Finds a measuring tape in a photo: ribbons of even, slowly tapering width, whichever colour stands out, then their
 * graduations. A ribbon is a tape only when its print repeats evenly under one projective map; print that admits two
 * scales is refused with the readings named.
 */
export function findTape(
  photo: Raster,
  request: TapeRequest,
  camera: Pick<CameraCues, 'focalPx' | 'heightM' | 'heightSdM'>,
): FoundLine | NoReference {
  const candidates = tapeRibbons(photo);
  if (candidates.length === 0) {
    return none(
      'no tape found: no long straight strip of even width stands out from the soil; lay the tape flat and uncovered beside the row',
    );
  }
  if (request.kind === 'tape' && 'lengthM' in request) return tapeOfLength(photo, candidates, request.lengthM, camera);
  const wanted: readonly Graduations[] = request.kind === 'tape' ? [request.graduations] : ['in', 'cm'];
  const read = candidates.slice(0, 4).map((candidate) => {
    const { ribbon, colour } = candidate.extent;
    const taperSd = candidate.traced.taperSdPx / ribbonWidth(ribbon, (ribbon.fromS + ribbon.toS) / 2);
    return { candidate, readings: readGraduations(photo, ribbon, colour, taperSd, camera, request.kind === 'tape') };
  });
  const tapes = read.filter((r) => r.readings.length > 0).sort((a, b) => strength(b.readings) - strength(a.readings));
  const strongest = tapes[0];
  if (strongest === undefined) {
    return none(
      'a long straight strip is in the photo, but no even graduations on it: a tape must show its print sharply; come nearer, or mark two readings by hand',
    );
  }
  // print on one side of a tape can part it in two strips: the one that reads best
  const isBeside = (t: (typeof tapes)[number]): boolean =>
    t === strongest || alongside(t.candidate.extent.ribbon, strongest.candidate.extent.ribbon);
  const first = tapes.filter(isBeside).reduce((a, b) => (b.readings[0]!.score > a.readings[0]!.score ? b : a));
  const second = tapes.find((t) => t.candidate.traced.edgeShare >= BOTH_EDGES && !isBeside(t));
  if (second?.readings.some(isTape) && strength(second.readings) > 0.4 * strength(first.readings)) {
    return {
      kind: 'none',
      reason: 'two tapes are in the photo: leave only one in view, or mark two readings by hand',
      warnings: [{ code: 'two-references', message: 'two graduated tapes were found' }],
    };
  }
  const best = first.readings[0]!;
  const mine = first.readings.find((r) => wanted.includes(r.system));
  // parts that only the named unit has speak for it, where the other shows none of its own
  const trust = mine?.unitShown === true && !best.unitShown ? CLEAR : 1;
  if (
    mine === undefined ||
    (!wanted.includes(best.system) && !sameScale(best, mine) && best.score - mine.score > trust)
  ) {
    return none(
      `the graduations look like ${name(best)}, not ${wanted[0] === 'in' ? 'inches' : 'centimetres'}: name the tape's units as printed`,
    );
  }
  const rival = first.readings.find((r) => wanted.includes(r.system) && !sameScale(r, mine));
  // long marks ten units or a foot apart, or parts of the unit, that only the better of two shows, settle it; it is said
  const settled = request.kind === 'tape' && mine.unitShown && rival?.unitShown === false;
  const clear = request.kind === 'auto' ? CLEAR : settled ? 0 : CLEAR_WITHIN_UNIT;
  if (rival !== undefined && mine.score - rival.score < clear) {
    return none(
      `graduations fit two readings: ${name(mine)} or ${name(rival)}; name the units, give the camera height, or mark two readings by hand`,
    );
  }
  const other = first.readings.find((r) => !sameScale(r, mine));
  const warnings: Warning[] = [];
  if (other !== undefined && mine.score - other.score < (mine.unitShown ? CLEAR : CLEAR_BY_WIDTH)) {
    warnings.push({
      code: 'units-not-checked',
      message: `the graduations could also be ${name(other)}: the units are taken as ${request.kind === 'auto' ? 'the width of the tape suggests' : 'named'}`,
    });
  }
  if (request.kind === 'auto' && mine.score < LEAST_UNASKED) {
    return none(
      'a long straight strip with some even pattern is in the photo, but it is not clearly a tape; say what it is (tape:in, tape:cm, rod:6ft, frame:1mx0.5m), or mark two readings by hand',
      [],
      'unclear-tape',
    );
  }
  if (mine.score < -8) {
    return none(
      `graduations were found, but read as ${name(mine)} the tape would be far wider or narrower than tapes are (12 to 32 mm); name the tape's units, or mark two readings by hand`,
    );
  }
  return graduatedLine(first.candidate.extent, first.candidate.traced, mine, warnings);
}

/** How far its clearest print stands out from chance, less where it could not be followed: shadows have such waves. */
function strength(readings: readonly GraduationReading[]): number {
  return Math.max(0, ...readings.map(({ fit }) => fit.score * Math.max(0.3, fit.agreeing)));
}

/** Whether a reading stands by itself: followed along most of the strip, and the strip as wide as tapes are. */
function isTape(r: GraduationReading): boolean {
  return r.fit.agreeing > 0.6 && r.fit.gain > 0.12 && r.fit.spread < 0.1 && r.score > -6;
}

function sameScale(a: GraduationReading, b: GraduationReading): boolean {
  return Math.abs(a.lengthM / b.lengthM - 1) < 0.02;
}

function name(r: GraduationReading): string {
  return `${Number((r.periodM / GRADUATION_M[r.system]).toPrecision(3))} ${r.system} marks (${r.lengthM.toFixed(2)} m in view)`;
}

function none(reason: string, warnings: readonly Warning[] = [], code?: string): NoReference {
  return { kind: 'none', reason, warnings, ...(code === undefined ? {} : { code }) };
}
