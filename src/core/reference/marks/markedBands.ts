import { square } from '../../statistics/square.ts';
import type { TracedRibbon } from '../line/traceRibbon.ts';
import type { FoundLine } from '../reference.ts';
import { bandedLine } from '../rod/bandedLine.ts';
import type { BandFit } from '../rod/fitBands.ts';
import type { RodExtent } from '../rod/rodExtent.ts';
import { placeAlong } from './liesOn.ts';

/** A mark this many times its doubt beside a border is still meant for it; never more than so much of a band. */
const WITHIN_SD = 3;
const WITHIN_BANDS = 0.1;
/** Readings of marks at borders must be those of even bands to so much of a band: they are typed, not measured. */
const EVEN = 0.01;

/**
 * The bands of a rod read by hand marks at their borders, if any: a mark names its border, so the length of a band is known
 * as exactly as it was typed, and the borders found give the scale, finer than anyone points. Null unless two marks or more
 * lie at borders and name even bands.
 */
export function markedBands(
  line: FoundLine,
  extent: RodExtent,
  traced: TracedRibbon,
  bands: BandFit,
): FoundLine | null {
  const { ribbon } = extent;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const countAt = (xPx: number, yPx: number): { count: number; perPx: number } => {
    const u = (placeAlong(ribbon, [xPx, yPx]) - ribbon.fromS) / half - 1;
    const w = 1 + bands.c * u;
    return { count: (bands.perT * u) / w + bands.offset, perPx: bands.perT / square(w) / half };
  };
  const named = line.readings.flatMap(({ xPx, yPx, readingM, sdPx }) => {
    const { count, perPx } = countAt(xPx, yPx);
    const border = Math.round(count);
    const near = Math.abs(count - border) < Math.min(WITHIN_BANDS, WITHIN_SD * sdPx * perPx);
    return near ? [{ border, readingM }] : [];
  });
  const [first, last] = [named[0], named[named.length - 1]];
  if (first === undefined || last === undefined || first.border === last.border) return null;
  const perBand = (last.readingM - first.readingM) / (last.border - first.border);
  const readingOf = (border: number): number => first.readingM + perBand * (border - first.border);
  const bandM = Math.abs(perBand);
  if (named.some(({ border, readingM }) => Math.abs(readingM - readingOf(border)) > EVEN * bandM)) return null;
  const read = bandedLine(extent, traced, bands, bandM, null);
  // readings of bands start at an end of the rod, those of marks where the person says: both name this border
  const known = read.readings[read.readings.length >> 1]!;
  const at = readingOf(Math.round(countAt(known.xPx, known.yPx).count));
  const second = read.readings[(read.readings.length >> 1) + 1] ?? read.readings[0]!;
  const way =
    Math.sign(perBand) *
    Math.sign(countAt(second.xPx, second.yPx).count - countAt(known.xPx, known.yPx).count) *
    Math.sign(second.readingM - known.readingM);
  const onMarks = <T extends { readonly readingM: number }>(places: readonly T[]): T[] =>
    places
      .map((place) => ({ ...place, readingM: at + way * (place.readingM - known.readingM) }))
      .sort((a, b) => a.readingM - b.readingM);
  const share = (line.endsM[1] - line.endsM[0]) / (read.endsM[1] - read.endsM[0]);
  return {
    ...line,
    on: 'rod',
    readings: onMarks(read.readings),
    widths: onMarks(read.widths),
    lengthErrorMm: read.lengthErrorMm * share,
    coveredPx: read.coveredPx,
  };
}
