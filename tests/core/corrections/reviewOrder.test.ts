import { describe, expect, it } from 'vitest';
import { reviewOrder } from '../../../src/core/corrections/reviewOrder.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { drawnCount, madeBy } from './drawnCount.ts';

const ROW = 'xxox?xxdwxoxxxxxxxxx';
/** The floor that lies at this many plants in the stretch of 2 m and 30 in rows. */
const floorAt = (plants: number, { stretch, setting }: CountResult) =>
  plants / (stretch!.lengthM * setting!.rowWidthM!);
const ids = (result: CountResult, floor: number | null, changes: Parameters<typeof madeBy>[0] = []) =>
  reviewOrder(result, madeBy(changes), floor).map((q) => q.plantId);

describe('the order to ask in', () => {
  it('least certain first: perhaps two, could not tell, less sure, sure, weed', () => {
    // Variance of the number of plants: two with 0.35 and one with 0.6: 0.31; 0.5: 0.28; 0.6: 0.27; 0.95: 0.07.
    expect(ids(drawnCount(ROW), null).slice(0, 4)).toEqual(['p7', 'p4', 'p2', 'p10']);
    expect(ids(drawnCount(ROW), null).at(-1)).toBe('p8');
  });

  it('leaves out what a person has looked at, and asks about halves and moved marks no more', () => {
    const left = ids(drawnCount(ROW), null, [
      { kind: 'confirm plant', plantId: 'p7' },
      { kind: 'split plant', plantId: 'p4' },
      { kind: 'name plant', plantId: 'p2', as: 'weed' },
    ]);
    expect(left[0]).toBe('p10');
    expect(left).toHaveLength(17);
  });

  it('marks outside the stretch come after all that can decide, while the floor is open', () => {
    const result = drawnCount(`o${ROW}o`, { margin: 1 });
    const open = floorAt(result.count.value, result);
    expect(result.count.low).toBeLessThan(result.count.value);
    const asked = reviewOrder(result, [], open);
    const outside = new Set(result.plants.filter((p) => !p.inStretch).map((p) => p.id));
    expect(asked.filter((q) => q.decides).some((q) => outside.has(q.plantId))).toBe(false);
    expect(asked.slice(0, asked.filter((q) => q.decides).length).every((q) => q.decides)).toBe(true);
    // With and without a floor the outer marks are last, though less sure than many inside.
    for (const order of [asked.map((q) => q.plantId), ids(result, null)]) {
      expect(new Set(order.slice(-2))).toEqual(outside);
    }
  });

  it('nothing decides where the interval does not hold the floor, or none is known', () => {
    const result = drawnCount(ROW);
    for (const floor of [null, 0, floorAt(result.count.low, result), floorAt(result.count.high + 1, result)]) {
      expect(reviewOrder(result, [], floor).some((q) => q.decides)).toBe(false);
    }
    expect(reviewOrder(result, [], floorAt(result.count.high, result)).some((q) => q.decides)).toBe(true);
  });

  it('answering settles it: when the interval has left the floor, no mark decides any more', () => {
    const result = drawnCount(ROW);
    const floor = floorAt(result.count.value - 2, result);
    expect(reviewOrder(result, [], floor)[0]!.decides).toBe(true);
    const keep = result.plants.map(({ id }) => ({ kind: 'confirm plant', plantId: id }) as const);
    const settled = reviewOrder(
      result,
      madeBy(keep.filter(({ plantId }) => plantId !== 'p4' && plantId !== 'p3')),
      floor,
    );
    expect(settled.map((q) => q.decides)).toEqual([false, false]);
  });

  it('a stem so near an end that it may lie on the other side decides too', () => {
    const result = drawnCount('xxxxxxxxxxxx', { margin: 1 });
    const near = result.plants.map((p) => (p.id === 'p0' ? { ...p, alongM: -0.006 } : p));
    const asked = reviewOrder({ ...result, plants: near }, [], floorAt(result.count.value, result));
    expect(asked.find((q) => q.plantId === 'p0')!.decides).toBe(true);
    expect(asked.find((q) => q.plantId === 'p11')!.decides).toBe(false);
  });

  it('none and one', () => {
    expect(reviewOrder(drawnCount('....'), [], null)).toEqual([]);
    expect(ids(drawnCount('..o.'), null)).toEqual(['p2']);
  });
});
