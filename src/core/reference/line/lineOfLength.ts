import { norm } from '../../geometry/norm.ts';
import { square } from '../../statistics/square.ts';
import type { FoundLine, Warning } from '../reference.ts';
import { narrowingSd } from './narrowingSd.ts';
import { ribbonOutline, ribbonPoint, ribbonWidth } from './ribbon.ts';
import type { RibbonExtent } from './ribbonExtent.ts';
import { startsAtFrom } from './startsAtFrom.ts';
import type { TracedRibbon } from './traceRibbon.ts';

const POINTS = 9;
/** A rod seen from aside shows more or less of its rounded or flat end: so much of its thickness (1 sd). */
const ROD_END_SHARE = 0.25;

/**
 * Readings along a ribbon of known whole length that carries no legible marks. The ends fix the length; how readings
 * crowd between them comes from the taper (width goes as 1 + c u where readings go as u / (1 + c u)), and its doubt is
 * carried into the readings between the ends.
 */
export function lineOfLength(
  kind: 'tape' | 'rod',
  found: { readonly traced: TracedRibbon; readonly extent: RibbonExtent },
  lengthM: number,
  extra: readonly Warning[],
): FoundLine {
  const { ribbon, endsSeen, endSdPx } = found.extent;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const mid = (ribbon.toS + ribbon.fromS) / 2;
  const widthMid = ribbonWidth(ribbon, mid);
  const c = Math.max(-0.85, Math.min(0.85, (ribbon.width[1] * half) / ribbon.scaleS / widthMid));
  const cSd = Math.max(0.005, narrowingSd(found.traced, widthMid));
  const total = 1 / (1 + c) + 1 / (1 - c);
  const share = (u: number): number => (u / (1 + c * u) + 1 / (1 - c)) / total;
  const forward = startsAtFrom(ribbon, endsSeen);
  const places = Array.from({ length: POINTS }, (_, i) => -1 + (2 * i) / (POINTS - 1));
  const readings = places.map((u) => {
    const s = mid + u * half;
    const [xPx, yPx] = ribbonPoint(ribbon, s, 0);
    const readingM = lengthM * (forward ? share(u) : 1 - share(u));
    const end = u < 0 ? endSdPx[0] : endSdPx[1];
    // a wrong taper moves the middle most, the ends not at all; and all readings between together, so that many say no
    // more about it than one
    return { xPx, yPx, readingM, sdPx: norm(end, half * cSd * (1 - u * u) * Math.sqrt(POINTS - 2)) };
  });
  const widths = readings.map((r, i) => ({
    readingM: r.readingM,
    widthPx: ribbonWidth(ribbon, mid + places[i]! * half),
  }));
  const order = forward ? ([0, 1] as const) : ([1, 0] as const);
  const ends = [ribbon.fromS, ribbon.toS] as const;
  const mPerPxAt = (u: number): number => lengthM / total / square(1 + c * u) / half;
  const endDoubtM = (u: -1 | 1): number => {
    const thicknessM = kind === 'rod' ? ribbonWidth(ribbon, mid + u * half) * mPerPxAt(u) : 0;
    return norm((u < 0 ? endSdPx[0] : endSdPx[1]) * mPerPxAt(u), ROD_END_SHARE * thicknessM);
  };
  return {
    kind,
    readings: forward ? readings : readings.reverse(),
    endsPx: [ribbonPoint(ribbon, ends[order[0]], 0), ribbonPoint(ribbon, ends[order[1]], 0)],
    endsM: [0, lengthM],
    endsSeen: [endsSeen[order[0]], endsSeen[order[1]]],
    widths: forward ? widths : widths.reverse(),
    byEnds: true,
    lengthErrorMm: 1000 * norm(endDoubtM(-1), endDoubtM(1), (lengthM * cSd) / 4),
    coveredPx: [ribbonOutline(ribbon, 1 + 2 * found.traced.edgeSpreadPx)],
    warnings: [
      ...extra,
      {
        code: 'foreshortening-from-width',
        message: `no legible marks: readings between the ends rest on how the ${kind} narrows in the photo`,
      },
    ],
  };
}
