import { norm } from '../../geometry/norm.ts';
import { square } from '../../statistics/square.ts';
import { ribbonOutline, ribbonPoint, ribbonWidth } from '../line/ribbon.ts';
import { startsAtFrom } from '../line/startsAtFrom.ts';
import type { TracedRibbon } from '../line/traceRibbon.ts';
import type { FoundLine, Warning } from '../reference.ts';
import type { BandFit } from './fitBands.ts';
import { oddBands } from './oddBands.ts';
import type { RodExtent } from './rodExtent.ts';

/** An end this near (in bands) to where a border is due is the end of a whole band: a tip is rounded, capped or worn. */
const END_NEAR = 0.06;

/**
 * Readings of a banded rod: its borders, and its ends where they show. Scale from the length of a band, or from the whole
 * length when that is what is known.
 */
export function bandedLine(
  extent: RodExtent,
  traced: TracedRibbon,
  bands: BandFit,
  bandM: number | null,
  lengthM: number | null,
): FoundLine {
  const { ribbon, endsSeen, endSdPx } = extent;
  const half = (ribbon.toS - ribbon.fromS) / 2;
  const mid = (ribbon.toS + ribbon.fromS) / 2;
  const countAt = (u: number): number => (bands.perT * u) / (1 + bands.c * u) + bands.offset;
  const slopeAt = (u: number): number => bands.perT / square(1 + bands.c * u) / half;
  const placeOf = (band: number): number => {
    const t = (band - bands.offset) / bands.perT;
    return t / (1 - bands.c * t);
  };
  const endU = ([0, 1] as const).map((i) => {
    const u = i === 0 ? -1 : 1;
    const last = bands.borders.reduce((a, b) => ((b.u - a.u) * u > 0 ? b : a)).band;
    const beyond = countAt(u) - last;
    const whole = Math.round(countAt(u));
    if (endsSeen[i] && Math.abs(countAt(u) - whole) < END_NEAR) return placeOf(whole);
    // no band is longer than a band: what goes on in its colour is soil or shadow
    return Math.abs(beyond) > 1 + END_NEAR ? placeOf(last + Math.sign(beyond)) : u;
  }) as [number, number];
  const total = countAt(endU[1]) - countAt(endU[0]);
  const metresPerBand = bandM ?? lengthM! / total;
  const forward = startsAtFrom(ribbon, endsSeen);
  const base = countAt(endU[forward ? 0 : 1]);
  const metres = (band: number): number => (forward ? band - base : base - band) * metresPerBand;
  const point = (u: number) => ribbonPoint(ribbon, mid + u * half, 0);
  const marks = [
    { u: endU[0], band: countAt(endU[0]), sdPx: endSdPx[0] },
    ...bands.borders
      .filter((b) => b.u > endU[0] + 0.01 && b.u < endU[1] - 0.01)
      .map((b) => ({ u: b.u, band: b.band, sdPx: Math.max(0.3, bands.spread / slopeAt(b.u)) })),
    { u: endU[1], band: countAt(endU[1]), sdPx: endSdPx[1] },
  ];
  const readings = marks.map((m) => {
    const [xPx, yPx] = point(m.u);
    return { xPx, yPx, readingM: metres(m.band), sdPx: m.sdPx };
  });
  const widths = marks.map((m) => ({ readingM: metres(m.band), widthPx: ribbonWidth(ribbon, mid + m.u * half) }));
  const warnings: Warning[] = [];
  const ends = endU.map(countAt);
  if (endsSeen[0] && endsSeen[1] && ends.some((n) => Math.abs(n - Math.round(n)) > 1e-6)) {
    warnings.push({
      code: 'part-band',
      message: 'an end of the rod does not fall on a band border: a band is part hidden or cut short',
    });
  } else if (lengthM !== null) {
    warnings.push(...oddBands(metresPerBand, Math.round(Math.abs(total)), lengthM));
  }
  if (!endsSeen[forward ? 0 : 1]) {
    warnings.push({ code: 'zero-not-seen', message: 'readings start at the first visible point of the rod' });
  }
  const order = forward ? ([0, 1] as const) : ([1, 0] as const);
  const endMm = (i: 0 | 1): number => endSdPx[i] * slopeAt(i === 0 ? -1 : 1) * metresPerBand * 1000;
  const lengthMm = Math.abs(total) * metresPerBand * 1000;
  return {
    kind: 'rod',
    readings: forward ? readings : readings.reverse(),
    endsPx: [point(endU[order[0]]), point(endU[order[1]])],
    endsM: [0, Math.abs(total) * metresPerBand],
    endsSeen: [endsSeen[order[0]], endsSeen[order[1]]],
    widths: forward ? widths : widths.reverse(),
    lengthErrorMm: norm(
      endMm(0),
      endMm(1),
      (bands.spread * metresPerBand * 1000 * 2.5) / Math.sqrt(Math.max(1, bands.borders.length - 2)),
      0.001 * lengthMm,
    ),
    coveredPx: [ribbonOutline(ribbon, 1 + 2 * traced.edgeSpreadPx)],
    warnings,
  };
}
