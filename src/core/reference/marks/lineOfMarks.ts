import type { SaidValues } from '../../faults/said.ts';
import { applyLineMap, fitLineMap } from '../../geometry/fitLineMap.ts';
import { norm } from '../../geometry/norm.ts';
import type { FoundLine, NoReference, Reading, Warning } from '../reference.ts';

/** A person points at a mark no better than this share of the picture's diagonal (about 2.5 pixels of 12 megapixels). */
const POINTING_SHARE = 0.0005;
/** Marks that misfit by more than this many times their doubt do not agree. */
const DISAGREE = 3;

/**
 * The line through hand marks: photo pixels at known readings of one straight reference. Two marks give ends only;
 * three or more give the perspective along it and can contradict each other. One wrong mark among five or more is left
 * out and named.
 */
export function lineOfMarks(marks: readonly Reading[], widthPx: number, heightPx: number): FoundLine | NoReference {
  const sdPx = POINTING_SHARE * norm(widthPx, heightPx);
  const sorted = distinct(marks).sort((a, b) => a.readingM - b.readingM);
  const outside = sorted.find((m) => m.xPx < -0.5 || m.yPx < -0.5 || m.xPx > widthPx - 0.5 || m.yPx > heightPx - 0.5);
  if (outside !== undefined) {
    return refuse(
      'mark-outside-photo',
      `the mark ${named(outside)} lies outside the photo of ${widthPx} x ${heightPx} pixels: give pixels of the photo as you see it`,
      { readingM: outside.readingM },
    );
  }
  const twice = sorted.find((m, i) => i > 0 && m.readingM - sorted[i - 1]!.readingM < 1e-6);
  if (twice !== undefined)
    return refuse(
      'reading-twice',
      `two different marks say ${twice.readingM.toFixed(3)} m: each reading needs one place`,
    );
  if (sorted.length < 2)
    return refuse(
      'too-few-marks',
      'hand marks need two different readings at two places, as --mark 812,1440=0ft --mark 3020,1466=10ft',
    );
  const { kept, dropped, misfit } = agreeing(sorted, sdPx);
  const [first, last] = [kept[0]!, kept[kept.length - 1]!];
  const chordPx = norm(last.xPx - first.xPx, last.yPx - first.yPx);
  if (chordPx < 20 * sdPx)
    return refuse(
      'marks-too-close',
      'the marks lie too close together in the photo to give a scale: mark the far ends of the reference',
    );
  const warnings: Warning[] = dropped.map((mark) => ({
    code: 'mark-left-out',
    values: { readingM: mark.readingM },
    message: `The mark ${named(mark)} does not fit the others and was left out: check its pixel and reading.`,
  }));
  if (misfit > DISAGREE) {
    warnings.push({
      code: 'marks-disagree',
      message: `The marks fit one straight scale only to ${(misfit * sdPx).toFixed(0)} pixels: check their pixels, readings and units.`,
    });
  }
  const doubtPx = sdPx * Math.max(1, misfit);
  return {
    kind: 'marks',
    readings: kept.map((mark) => ({ ...mark, sdPx: doubtPx })),
    endsPx: [
      [first.xPx, first.yPx],
      [last.xPx, last.yPx],
    ],
    endsM: [first.readingM, last.readingM],
    endsSeen: [true, true],
    widths: [],
    lengthErrorMm: (1000 * Math.SQRT2 * doubtPx * (last.readingM - first.readingM)) / chordPx,
    coveredPx: [],
    warnings,
  };
}

/** The marks without one that spoils the fit, if leaving out just that one mends it. */
function agreeing(
  marks: readonly Reading[],
  sdPx: number,
): { kept: readonly Reading[]; dropped: Reading[]; misfit: number } {
  const misfit = misfitOf(marks, sdPx);
  if (misfit <= DISAGREE || marks.length < 5) return { kept: marks, dropped: [], misfit };
  const without = marks.map((mark) => {
    const kept = marks.filter((m) => m !== mark);
    return { kept, dropped: [mark], misfit: misfitOf(kept, sdPx) };
  });
  const best = without.reduce((a, b) => (b.misfit < a.misfit ? b : a));
  return best.misfit <= DISAGREE / 2 ? best : { kept: marks, dropped: [], misfit };
}

function misfitOf(marks: readonly Reading[], sdPx: number): number {
  const map = fitLineMap(marks.map((m) => ({ value: m.readingM, at: [m.xPx, m.yPx], sd: sdPx })));
  if (map === null) return marks.length < 3 ? 1 : Number.POSITIVE_INFINITY;
  // A map that folds the line back on itself orders readings wrongly somewhere: no camera does that.
  const places = marks.map((m) => applyLineMap(map, m.readingM));
  return places.every(([x, y]) => Number.isFinite(x) && Number.isFinite(y)) ? map.misfit : Number.POSITIVE_INFINITY;
}

function distinct(marks: readonly Reading[]): Reading[] {
  return marks.filter(
    (m, i) => marks.findIndex((o) => o.xPx === m.xPx && o.yPx === m.yPx && o.readingM === m.readingM) === i,
  );
}

function named(mark: Reading): string {
  return `${mark.xPx},${mark.yPx} = ${mark.readingM.toFixed(3)} m`;
}

function refuse(code: string, why: string, values: SaidValues = {}): NoReference {
  return { kind: 'none', code, values, reason: `The hand marks give no scale: ${why}.`, warnings: [] };
}
