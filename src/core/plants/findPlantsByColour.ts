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
import { segmentLeaves } from './segmentLeaves.ts';
import { HEIGHT_PER_SPAN, stemBase } from './stemBase.ts';
import { weightedMedian } from './weightedMedian.ts';

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
  const lobeHeight = 1.6 * Math.sqrt(lobe);
  const first = findRowLine(
    parts.map((p) => ({ atMm: toMm(groundBelow(view, p.centrePx, lobeHeight)), weight: Math.sqrt(p.areaMm2) })),
    prior,
  )!;
  const bandMm = Math.max(60, 2.5 * first.sdMm);
  const inBand = (p: LeafPart): boolean => {
    const [x, y] = toMm(groundBelow(view, p.centrePx, lobeHeight));
    return Math.abs(y - first.acrossAtZeroMm - first.slope * x) <= bandMm;
  };
  const rowParts = renumber(parts.filter(inBand), contacts);
  const lengthMm = bareFreeLength(rowParts.parts.map((p) => toMm(p.centrePx)[0]));
  const usual = search.seedSpacingM === null ? 85 : search.seedSpacingM * 1000 * 1.15;
  const logSd = search.seedSpacingM === null ? 0.45 : 0.25;
  const scaled = plantScale(rowParts.parts, rowParts.contacts, view, (n) => {
    const z = (Math.log(lengthMm / Math.max(1, n)) - Math.log(usual)) / logSd;
    return anchored ? -0.5 * z * z : 0;
  });
  if (scaled === null) return { detections: [], rowLine: null, warnings: [] };
  const { scale } = scaled;
  const groups = groupParts(parts, contacts, view, scale);
  const heightMm = (g: PartGroup): number => HEIGHT_PER_SPAN * Math.min(scale.spanMm, g.spanMm);
  const rowPx = (fit: RowFit) => ({
    y0: -fit.acrossAtZeroMm / strip.mmPerPx,
    slope: -fit.slope,
    sdPx: fit.sdMm / strip.mmPerPx,
  });
  const free = groups.map((g) => stemBase(g, view, heightMm(g), null));
  const row = findRowLine(
    groups.map((g, k) => ({ atMm: toMm(free[k]!.basePx), weight: Math.sqrt(g.areaMm2) })),
    { acrossMm: first.acrossAtZeroMm, sdMm: 120 },
  )!;
  const clear = anchored || row.share > 0.6;
  const detections = groups
    .map((group): Omit<Detection, 'id'> => {
      const free = stemBase(group, view, heightMm(group), null);
      const freeMm = toMm(free.basePx);
      const offRowMm = clear ? freeMm[1] - row.acrossAtZeroMm - row.slope * freeMm[0] : null;
      const odds = cropLogOdds({ group, offRowMm, rowSdMm: row?.sdMm ?? 0, colourDistance: 0 }, scale);
      const confidence = 1 / (1 + Math.exp(-odds));
      const kind: PlantKind = confidence >= 0.5 ? 'plant' : confidence >= 0.25 ? 'unsure' : 'weed';
      const base = kind === 'plant' && clear ? stemBase(group, view, heightMm(group), rowPx(row)) : free;
      const { away } = leanAt(view, group.centrePx);
      const xs = group.outlinePx.map((p) => p[0]);
      const ys = group.outlinePx.map((p) => p[1]);
      return {
        baseStripPx: base.basePx,
        crownStripPx: group.centrePx,
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
    debug: `A0 ${scale.areaMm2.toFixed(0)} S0 ${scale.spanMm.toFixed(0)} lobe ${lobe.toFixed(0)} parts ${parts.length}/${rowParts.parts.length}`,
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
