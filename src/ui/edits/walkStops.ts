import { good, type Outcome } from '../../core/faults/outcome.ts';
import { toFlat } from '../../core/sampling/metresPerDegree.ts';
import { type Position, randomPoints } from '../../core/sampling/randomPoints.ts';
import { randomWalk, type WalkStop } from '../../core/sampling/randomWalk.ts';
import { STOPPING } from '../../core/sampling/stoppingRule.ts';
import { seededRandom } from '../../core/statistics/seededRandom.ts';
import { quantityIn } from '../../core/visit/quantity.ts';
import type { VisitDocument } from '../../core/visit/visitSchema.ts';

/** A pace of about 30 in; the walker's own differs, which moves a spot and changes nothing else. Common practice, no source. */
const PACE_M = 0.75;
const HEADLAND_PACES = 30;
/**
 * As many as come before any verdict are walked in one crossing. From then on stops come one at a time as they are
 * drawn: the walk may end after any of them, and stops put in order would leave the far side of the field uncounted.
 */
const FIRST_STOPS = STOPPING.leastSpots;
/** Where neither area nor row width is known. */
const ANY_FIELD = { lengthPaces: 400, rows: 200 };

/**
 * Where to count, in rows and paces: for a field without an outline. From a seed, so that the page shows the same stops
 * after a restart, and the eye has no say.
 */
export function walkStops(visit: VisitDocument, counted: number): Outcome<readonly WalkStop[]> {
  const random = seededRandom(seedOf(visit.id));
  const field = walkedField(visit);
  const stops: WalkStop[] = [];
  while (stops.length <= counted || stops.length < FIRST_STOPS) {
    const batch = randomWalk(field, stops.length === 0 ? FIRST_STOPS : 1, random);
    if (!batch.ok) return batch;
    stops.push(...batch.value.stops.map((stop) => ({ ...stop, number: stops.length + stop.number })));
  }
  return good(stops);
}

/** Where to count, as GPS points inside the field's outline; the same for one visit whenever it is asked. */
export function gpsStops(visitId: string, outline: readonly Position[], counted: number): Outcome<readonly Position[]> {
  const random = seededRandom(seedOf(visitId));
  const first = randomPoints(outline, FIRST_STOPS, random);
  if (!first.ok || counted < FIRST_STOPS) return first.ok ? good(inOneCrossing(first.value, outline)) : first;
  const more = randomPoints(outline, counted + 1 - FIRST_STOPS, random);
  return more.ok ? good([...inOneCrossing(first.value, outline), ...more.value]) : more;
}

/** Along the longer side of the box around the field. */
function inOneCrossing(points: readonly Position[], outline: readonly Position[]): readonly Position[] {
  const origin = outline[0]!;
  const flat = outline.map((corner) => toFlat(corner, origin));
  const span = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
  const isWide = span(flat.map(({ x }) => x)) > span(flat.map(({ y }) => y));
  return [...points].sort((a, b) => (isWide ? a[1] - b[1] : a[0] - b[0]));
}

/** A square of the field's area, rows along one side: what can be said before anybody draws the field. */
function walkedField(visit: VisitDocument) {
  const areaM2 = quantityIn(visit.field.area, 'area');
  const rowWidthM = quantityIn(visit.planting.rowWidth, 'length');
  const sideM = areaM2 === null ? null : Math.sqrt(areaM2);
  const lengthPaces = sideM === null ? ANY_FIELD.lengthPaces : Math.max(1, Math.floor(sideM / PACE_M));
  const rows = sideM === null || !rowWidthM ? ANY_FIELD.rows : Math.max(1, Math.floor(sideM / rowWidthM));
  const marginPaces = lengthPaces > 4 * HEADLAND_PACES ? HEADLAND_PACES : Math.floor(lengthPaces / 8);
  return { lengthPaces, rows, marginPaces, marginRows: Math.min(12, Math.floor(rows / 8)) };
}

function seedOf(text: string): number {
  let hash = 2_166_136_261;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 16_777_619);
  return hash >>> 0;
}
