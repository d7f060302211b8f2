import { norm } from '../geometry/norm.ts';
import type { PlantScale } from './groupScore.ts';
import type { PartGroup } from './partGroup.ts';
import { weightedMedian } from './weightedMedian.ts';

/** Leaf colour of a row's plants (mean chromatic green and red) and its spread from plant to plant. */
export interface RowColour {
  readonly green: number;
  readonly red: number;
  readonly greenSd: number;
  readonly redSd: number;
}

/** Plants of one row and age differ by about this much in chromatic colour, light and shade included. */
const LEAST_SD = 0.012;
/** A wider spread comes from weeds among them. */
const MOST_SD = 0.018;
const WHOLE_SHARE = 0.4;
const FEWEST = 5;

/** The colour of whole plants on the row; null where there are too few to know it. */
export function rowColour(onRow: readonly PartGroup[], scale: PlantScale): RowColour | null {
  const colours = onRow.filter((g) => g.leaves > 0 && g.areaMm2 > WHOLE_SHARE * scale.areaMm2).map(leafColour);
  if (colours.length < FEWEST) return null;
  const green = weightedMedian(colours.map((c) => [c.green, 1]));
  const red = weightedMedian(colours.map((c) => [c.red, 1]));
  const spread = (offs: readonly number[]): number =>
    Math.min(MOST_SD, Math.max(LEAST_SD, 1.48 * weightedMedian(offs.map((d) => [Math.abs(d), 1]))));
  return {
    green,
    red,
    greenSd: spread(colours.map((c) => c.green - green)),
    redSd: spread(colours.map((c) => c.red - red)),
  };
}

/** How far a group's leaves are from the row's colour, in spreads; smaller groups may differ more. */
export function offColour(group: PartGroup, row: RowColour, scale: PlantScale): number {
  if (group.leaves === 0) return 0;
  const { green, red } = leafColour(group);
  const far = norm((green - row.green) / row.greenSd, (red - row.red) / row.redSd);
  return far * Math.min(1, Math.sqrt(group.areaMm2 / (WHOLE_SHARE * scale.areaMm2)));
}

function leafColour({ parts }: PartGroup): { readonly green: number; readonly red: number } {
  let area = 0;
  let green = 0;
  let red = 0;
  for (const p of parts) {
    if (p.stem !== null) continue;
    area += p.areaMm2;
    green += p.areaMm2 * p.green;
    red += p.areaMm2 * p.red;
  }
  return { green: green / area, red: red / area };
}
