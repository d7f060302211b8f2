import type { Point } from '../geometry/point.ts';
import type { Strip } from '../straighten/strip.ts';
import { cameraView, groundBelow, leanAt } from './cameraView.ts';
import { cropLogOdds } from './cropChance.ts';
import type { Detection, PlantFindings, PlantKind, PlantSearch } from './detection.ts';
import { findRowLine, type RowFit } from './findRowLine.ts';
import { groupParts } from './groupParts.ts';
import { leafParts } from './leafParts.ts';
import type { PartGroup } from './partGroup.ts';
import { plantScale } from './plantScale.ts';
import { segmentLeaves } from './segmentLeaves.ts';
import { HEIGHT_PER_SPAN, stemBase } from './stemBase.ts';

export function findPlantsByColour(strip: Strip, search: PlantSearch): PlantFindings {
  const leaves = segmentLeaves(strip, search);
  const { parts, contacts } = leafParts(leaves, strip.raster, strip.mmPerPx);
  const view = cameraView(strip);
  const firstScale = plantScale(parts, contacts, view);
  if (firstScale === null) {
    return {
      detections: [],
      rowLine: null,
      warnings: [{ code: 'no-green', message: 'no green leaves were found in the strip' }],
    };
  }
  const scale = firstScale;
  const groups = groupParts(parts, contacts, view, scale);
  const heightMm = (g: PartGroup): number => HEIGHT_PER_SPAN * Math.min(scale.spanMm, g.spanMm);
  const toMm = ([x, y]: Point): Point => [x * strip.mmPerPx, -y * strip.mmPerPx];
  const prior = {
    acrossMm: ((search.rowAcrossM ?? 0) - strip.acrossAtTopM) * 1000,
    sdMm: search.rowAcrossM === null ? 400 : 80,
  };
  const first = findRowLine(
    groups.map((g) => ({ atMm: toMm(groundBelow(view, g.centrePx, heightMm(g))), weight: Math.sqrt(g.areaMm2) })),
    prior,
  );
  const rowPx = (fit: RowFit | null) =>
    fit === null
      ? null
      : { y0: -fit.acrossAtZeroMm / strip.mmPerPx, slope: -fit.slope, sdPx: fit.sdMm / strip.mmPerPx };
  const free = groups.map((g) => stemBase(g, view, heightMm(g), null));
  const row = findRowLine(
    groups.map((g, k) => ({ atMm: toMm(free[k]!.basePx), weight: Math.sqrt(g.areaMm2) })),
    first === null ? prior : { acrossMm: first.acrossAtZeroMm, sdMm: 120 },
  );
  const clear = row !== null && row.share > 0.5;
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
  return {
    detections,
    rowLine:
      row === null || !clear
        ? null
        : {
            acrossAtZeroM: strip.acrossAtTopM + (row.acrossAtZeroMm - row.slope * strip.alongAtLeftM * 1000) / 1000,
            slope: row.slope,
            sdM: row.sdMm / 1000,
          },
    warnings: clear ? [] : [{ code: 'row-unclear', message: 'the plants found do not stand along one line' }],
  };
}
