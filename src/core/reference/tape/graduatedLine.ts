import { norm } from '../../geometry/norm.ts';
import { square } from '../../statistics/square.ts';
import { ribbonOutline, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import type { RibbonExtent } from '../line/ribbonExtent.ts';
import { startsAtFrom } from '../line/startsAtFrom.ts';
import type { TracedRibbon } from '../line/traceRibbon.ts';
import type { FoundLine, Warning } from '../reference.ts';
import { metresAlong } from './metresAlong.ts';
import type { GraduationReading } from './readGraduations.ts';

const POINTS = 17;

/**
 * Turns a read tape into readings: zero at the tape's own end where that shows (the left one of two, or the lower for a
 * tape that runs up the photo), else at its first visible point, each case said in a warning.
 */
export function graduatedLine(
  extent: RibbonExtent,
  traced: TracedRibbon,
  reading: GraduationReading,
  extra: readonly Warning[],
): FoundLine {
  const { ribbon } = extent;
  const { fit, periodM } = reading;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const mid = (ribbon.toS + ribbon.fromS) / 2;
  const forward = startsAtFrom(ribbon, extent.endsSeen);
  const base = metresAlong(ribbon, reading, forward ? ribbon.fromS : ribbon.toS);
  const readingAt = (s: number): number => (metresAlong(ribbon, reading, s) - base) * (forward ? 1 : -1);
  const lengthM = Math.abs(readingAt(forward ? ribbon.toS : ribbon.fromS));
  const readings = Array.from({ length: POINTS }, (_, i) => {
    const part = i / (POINTS - 1);
    const s = forward ? ribbon.fromS + part * 2 * half : ribbon.toS - part * 2 * half;
    const [xPx, yPx] = ribbonPoint(ribbon, s, 0);
    const pxPerPeriod = 1 / slope(fit, (s - mid) / half, half);
    return { xPx, yPx, readingM: readingAt(s), sdPx: Math.max(0.15, fit.spread * pxPerPeriod) };
  });
  const order = forward ? ([0, 1] as const) : ([1, 0] as const);
  const ends = [ribbon.fromS, ribbon.toS] as const;
  const endSdM = order.map((i) =>
    extent.endsSeen[i] ? extent.endSdPx[i] * slope(fit, (ends[i] - mid) / half, half) * periodM : 0,
  );
  const graduationSdM = fit.lengthSdPeriods * periodM;
  const lengthErrorMm = 1000 * norm(1.5 * graduationSdM, endSdM[0]!, endSdM[1]!, 0.001 * lengthM);
  const seen = [extent.endsSeen[order[0]], extent.endsSeen[order[1]]] as const;
  const warnings: Warning[] = [...extra];
  if (seen[0]) {
    if (seen[1])
      warnings.push({
        code: 'zero-end-assumed',
        message: 'readings start at the left (or lower) end of the tape; lengths do not depend on it',
      });
  } else {
    warnings.push({
      code: 'zero-not-seen',
      message: 'the zero of the tape is not in the photo: readings start at its first visible point',
    });
  }
  if (fit.agreeing < 0.75)
    warnings.push({
      code: 'graduations-weak',
      message: `graduations could be followed over ${Math.round(fit.agreeing * 100)} % of the tape only`,
    });
  return {
    kind: 'tape',
    readings,
    endsPx: [ribbonPoint(ribbon, ends[order[0]], 0), ribbonPoint(ribbon, ends[order[1]], 0)],
    endsM: [0, lengthM],
    endsSeen: seen,
    widths: readings.map((r, i) => {
      const part = i / (POINTS - 1);
      const s = forward ? ribbon.fromS + part * 2 * half : ribbon.toS - part * 2 * half;
      return { readingM: r.readingM, widthPx: ribbonWidth(ribbon, s) };
    }),
    lengthErrorMm,
    coveredPx: [ribbonOutline(ribbon, 1 + 2 * traced.edgeSpreadPx)],
    warnings,
  };
}

/** Periods a pixel at u. */
function slope(fit: { readonly perT: number; readonly c: number }, u: number, half: number): number {
  return fit.perT / square(1 + fit.c * u) / half;
}
