import type { Point } from '../geometry/point.ts';
import type { Strip } from '../straighten/strip.ts';
import { cameraView, groundBelow, leanAt } from './cameraView.ts';
import { cropLogOdds } from './cropChance.ts';
import type { Detection, PlantFindings, PlantKind, PlantSearch } from './detection.ts';
import { findRowLine, type RowFit } from './findRowLine.ts';
import { groupParts } from './groupParts.ts';
import { type LeafPart, leafParts, type PartContact } from './leafParts.ts';
import type { PartGroup } from './partGroup.ts';
import { plantScale } from './plantScale.ts';
import { rowParts, type StripRow } from './rowParts.ts';
import { segmentLeaves } from './segmentLeaves.ts';
import { starFit } from './starFit.ts';
import { stemBase } from './stemBase.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Crown height over the square root of a typical lobe's area: 45 to 70 mm for leaves of 10 cm2. Common practice, no source. */
const HEIGHT_PER_ROOT_LOBE = 1.8;

export function findPlantsByColour(strip: Strip, search: PlantSearch): PlantFindings {
  const leaves = segmentLeaves(strip, search);
  const { parts, contacts } = leafParts(leaves, strip.raster, strip.mmPerPx);
  const view = cameraView(strip);
  if (parts.length === 0) {
    return {
      detections: [],
      rowLine: null,
      warnings: [{ code: 'no-green', message: 'no green leaves were found in the strip' }],
    };
  }
  const toMm = ([x, y]: Point): Point => [x * strip.mmPerPx, -y * strip.mmPerPx];
  const anchored = strip.camera !== null || search.coveredStripPx.length > 0 || search.rowAcrossM !== null;
  const prior = {
    acrossMm: ((search.rowAcrossM ?? 0) - strip.acrossAtTopM) * 1000,
    sdMm: search.rowAcrossM === null ? (anchored ? 200 : 400) : 80,
  };
  const lobe = weightedMedian(parts.map((p) => [p.areaMm2, p.areaMm2] as const));
  const lobeHeight = HEIGHT_PER_ROOT_LOBE * Math.sqrt(lobe);
  const first = findRowLine(
    parts.map((p) => ({ atMm: toMm(groundBelow(view, p.centrePx, lobeHeight)), weight: Math.sqrt(p.areaMm2) })),
    prior,
  )!;
  const roughly = { tallestMm: 2.2 * lobeHeight, spanMm: 3.2 * Math.sqrt(lobe) };
  const rough = rowParts(parts, stripRow(first, strip.mmPerPx), view, roughly);
  const near = renumber(rough.on, contacts);
  const lengthMm = bareFreeLength(near.parts.map((p) => toMm(p.centrePx)[0]));
  const usual = search.seedSpacingM === null ? 85 : search.seedSpacingM * 1000 * 1.15;
  const logSd = search.seedSpacingM === null ? 0.45 : 0.25;
  const scaled = plantScale(near.parts, near.contacts, view, (n) => {
    const z = (Math.log(lengthMm / Math.max(1, n)) - Math.log(usual)) / logSd;
    return anchored ? -0.5 * z * z : 0;
  });
  if (scaled === null) return { detections: [], rowLine: null, warnings: [] };
  const { scale } = scaled;
  const heightMm = (g: PartGroup): number =>
    HEIGHT_PER_ROOT_LOBE * Math.sqrt(lobe) * Math.min(1, Math.sqrt(g.areaMm2 / scale.areaMm2));
  const fitFirst = (groups: readonly PartGroup[]): RowFit => {
    const bases = groups.map((g) => {
      const crown = starFit(g, view, scale.lobeMm).crownPx;
      return toMm(stemBase(g, crown, view, heightMm(g), null).basePx);
    });
    return findRowLine(
      groups.map((g, k) => ({ atMm: bases[k]!, weight: Math.sqrt(g.areaMm2) })),
      { acrossMm: first.acrossAtZeroMm, sdMm: 120 },
    )!;
  };
  const row = fitFirst(scaled.groups);
  const clear = anchored || row.share > 0.6;
  const line = stripRow(row, strip.mmPerPx);
  const split = clear
    ? rowParts(parts, line, view, { tallestMm: 1.8 * lobeHeight, spanMm: scale.spanMm })
    : { on: parts, off: [] };
  const groups = [split.on, split.off].flatMap((list) => {
    const some = renumber(list, contacts);
    return groupParts(some.parts, some.contacts, view, scale);
  });
  const detections = groups
    .map((group): Omit<Detection, 'id'> => {
      const crownPx = starFit(group, view, scale.lobeMm).crownPx;
      const free = stemBase(group, crownPx, view, heightMm(group), null);
      const freeMm = toMm(free.basePx);
      const offRowMm = clear ? freeMm[1] - row.acrossAtZeroMm - row.slope * freeMm[0] : null;
      const sightSd = free.alongSightSdMm * Math.abs(leanAt(view, crownPx).away[1]);
      const odds = cropLogOdds({ group, offRowMm, rowSdMm: Math.hypot(row.sdMm, sightSd), colourDistance: 0 }, scale);
      const confidence = 1 / (1 + Math.exp(-odds));
      const kind: PlantKind = confidence >= 0.5 ? 'plant' : confidence >= 0.25 ? 'unsure' : 'weed';
      const base = kind === 'plant' && clear ? stemBase(group, crownPx, view, heightMm(group), line) : free;
      const { away } = leanAt(view, crownPx);
      const xs = group.outlinePx.map((p) => p[0]);
      const ys = group.outlinePx.map((p) => p[1]);
      return {
        baseStripPx: base.basePx,
        crownStripPx: crownPx,
        kind,
        confidence,
        doubleChance: group.areaMm2 > 1.6 * scale.areaMm2 ? 0.4 : 0.05,
        leafAreaMm2: group.areaMm2,
        boxStripPx: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
        alongSdMm: Math.hypot(away[0] * base.alongSightSdMm, away[1] * base.besideSdMm),
      };
    })
    .sort((a, b) => a.baseStripPx[0] - b.baseStripPx[0] || a.baseStripPx[1] - b.baseStripPx[1])
    .map((d, k): Detection => ({ id: `p${k + 1}`, ...d }));
  const out = {
    detections,
    debug: `A0 ${scale.areaMm2.toFixed(0)} S0 ${scale.spanMm.toFixed(0)} lobe ${lobe.toFixed(0)} parts ${parts.length}/${near.parts.length}`,
    rowLine: !clear
      ? null
      : {
          acrossAtZeroM: strip.acrossAtTopM + (row.acrossAtZeroMm - row.slope * strip.alongAtLeftM * 1000) / 1000,
          slope: row.slope,
          sdM: row.sdMm / 1000,
        },
    warnings: clear ? [] : [{ code: 'row-unclear', message: 'the plants found do not stand along one line' }],
  };
  return out;
}

function stripRow(fit: RowFit, mmPerPx: number): StripRow {
  return { y0: -fit.acrossAtZeroMm / mmPerPx, slope: -fit.slope, sdPx: fit.sdMm / mmPerPx };
}

function renumber(parts: readonly LeafPart[], contacts: readonly PartContact[]) {
  const ids = new Map(parts.map((p, k) => [p.id, k]));
  return {
    parts: parts.map((p, k) => ({ ...p, id: k })),
    contacts: contacts.flatMap(({ a, b, passShare }) =>
      ids.has(a) && ids.has(b) ? [{ a: ids.get(a)!, b: ids.get(b)!, passShare }] : [],
    ),
  };
}

/** Length along the row that is set with leaves: runs without any over 20 cm do not count. */
function bareFreeLength(alongMm: readonly number[]): number {
  const sorted = [...alongMm].sort((a, b) => a - b);
  let sum = 50;
  for (let k = 1; k < sorted.length; k++) sum += Math.min(200, sorted[k]! - sorted[k - 1]!);
  return sum;
}
