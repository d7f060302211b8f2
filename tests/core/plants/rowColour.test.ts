import { describe, expect, it } from 'vitest';
import type { LeafPart } from '../../../src/core/plants/leafParts.ts';
import type { PartGroup } from '../../../src/core/plants/partGroup.ts';
import { offColour, rowColour } from '../../../src/core/plants/rowColour.ts';

const SCALE = { areaMm2: 1000, spanMm: 80, stemShare: 0.5 };
const group = (green: number, red: number, areaMm2 = 1000): PartGroup => {
  const part = { areaMm2, green, red, stem: null } as LeafPart;
  return { parts: [part], stems: [], leaves: 1, areaMm2 } as unknown as PartGroup;
};
const ROW = [0.42, 0.425, 0.43, 0.415, 0.42, 0.42].map((green, k) => group(green, 0.36 + 0.002 * (k % 3)));

describe('the colour of a row', () => {
  it('is the median of its whole plants; a plant of the row is near it, a bluish weed is not', () => {
    const row = rowColour([...ROW, group(0.2, 0.2, 100)], SCALE)!;
    expect(row.green).toBeCloseTo(0.42, 2);
    for (const plant of ROW) expect(offColour(plant, row, SCALE)).toBeLessThan(1.5);
    expect(offColour(group(0.37, 0.33), row, SCALE)).toBeGreaterThan(3);
  });

  it('speaks less of small groups, whose few pixels mix with the soil', () => {
    const row = rowColour(ROW, SCALE)!;
    expect(offColour(group(0.37, 0.33, 40), row, SCALE)).toBeLessThan(offColour(group(0.37, 0.33), row, SCALE) / 2);
  });

  it('is not known from four plants', () => {
    expect(rowColour(ROW.slice(0, 4), SCALE)).toBe(null);
  });
});
