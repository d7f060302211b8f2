import type { PlantKind } from '../plants/detection.ts';
import { px, svgText } from './svg.ts';

export interface PlantToMark {
  readonly number: number;
  readonly kind: PlantKind;
  readonly confidence: number;
}

const SURE = 0.85;
const FAIRLY = 0.6;

/** Colour and line of a mark: told apart by shape and dash too, not by colour alone. */
export function markColour(plant: PlantToMark): string {
  if (plant.kind === 'weed') return '#ff5db1';
  if (plant.kind === 'unsure') return '#c9c9c9';
  if (plant.confidence >= SURE) return '#35d0ff';
  return plant.confidence >= FAIRLY ? '#ffd21f' : '#ff8b3d';
}

/**
 * One plant's mark: a ring at the stem base with its number above. Full ring: sure. Dashed ring: less sure. Cross:
 * weed. Square: could not tell.
 */
export function plantMark(x: number, y: number, radiusPx: number, plant: PlantToMark): string {
  const colour = markColour(plant);
  const r = radiusPx;
  const stroke = `fill="none" stroke="${colour}" stroke-width="${px(Math.max(2, r / 4))}"`;
  const under = `fill="none" stroke="#000000" stroke-opacity="0.6" stroke-width="${px(Math.max(4, r / 2))}"`;
  const shape = (style: string): string => {
    if (plant.kind === 'weed') {
      return `<path d="M${px(x - r)} ${px(y - r)}L${px(x + r)} ${px(y + r)}M${px(x + r)} ${px(y - r)}L${px(x - r)} ${px(y + r)}" ${style}/>`;
    }
    if (plant.kind === 'unsure') {
      return `<rect x="${px(x - r)}" y="${px(y - r)}" width="${px(2 * r)}" height="${px(2 * r)}" ${style}/>`;
    }
    const dash = plant.confidence >= SURE ? '' : ` stroke-dasharray="${px(r * 0.8)} ${px(r * 0.5)}"`;
    return `<circle cx="${px(x)}" cy="${px(y)}" r="${px(r)}" ${style}${dash}/>`;
  };
  const label =
    plant.kind === 'plant'
      ? svgText(x, y - r * 1.5, String(plant.number), { sizePx: Math.max(14, r * 2), anchor: 'middle' }, true)
      : '';
  return shape(under) + shape(stroke) + label;
}
