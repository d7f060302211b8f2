import { describe, expect, it } from 'vitest';
import type { CameraView } from '../../../src/core/plants/cameraView.ts';
import type { PartGroup } from '../../../src/core/plants/partGroup.ts';
import { rowCost } from '../../../src/core/plants/rowCost.ts';

const SCALE = { areaMm2: 1000, spanMm: 80, stemShare: 0.5 };
/** A row along y = 100 at 1 mm a pixel. */
const STANDING = { row: { y0: 100, slope: 0, sdPx: 8 }, tallestMm: 60 };
const ABOVE: CameraView = { footPx: [150, 100], heightPx: 1500, mmPerPx: 1 };
const SIDE: CameraView = { footPx: [150, 1300], heightPx: 1000, mmPerPx: 1 };
const group = (y: number, areaMm2 = 1000): PartGroup => ({ crownPx: [150, y], areaMm2 }) as unknown as PartGroup;
const cost = (y: number, view = ABOVE, areaMm2 = 1000): number => rowCost(group(y, areaMm2), STANDING, view, SCALE);

describe('rowCost', () => {
  it('asks nothing over the row, and two leaves beside it cost more than the plant they make', () => {
    expect(cost(100)).toBe(0);
    expect(cost(70) + cost(130)).toBeGreaterThan(2);
    expect(cost(130)).toBeGreaterThan(cost(115));
  });

  it('has an end, speaks less of bits, and is silent from the side, where the sight hides the offset', () => {
    expect(cost(400)).toBe(2.5);
    expect(cost(130, ABOVE, 50)).toBeLessThan(cost(130) / 5);
    expect(cost(130, SIDE)).toBe(0);
  });
});
