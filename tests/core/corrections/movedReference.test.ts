import { describe, expect, it } from 'vitest';
import { handleReadings } from '../../../src/core/corrections/movedReference.ts';
import { replay } from '../../../src/core/corrections/replay.ts';
import type { CountResult } from '../../../src/core/count/countResult.ts';
import { type Camera, groundToPhoto, photoToGround } from '../../../src/core/geometry/camera.ts';
import { applyHomography, type Homography } from '../../../src/core/geometry/homography.ts';
import { drawnCount, madeBy } from './drawnCount.ts';

const ROW = 'x.xx.xxx.x.xxxx.xx.x';
/** Straight down from 3 m, focal length 3000 px: 1 mm of soil a pixel, zero at pixel (100, 500). */
const DOWN: Camera = {
  focalPx: 3000,
  middlePx: [1999.5, 499.5],
  position: [1.8995, 0.0005, 3],
  axes: [
    [1, 0, 0],
    [0, -1, 0],
    [0, 0, -1],
  ],
};

/** The same photo as the machine would have it with the reading at the far end put 120 pixels too near. */
function misread(kind: CountResult['reference']['kind'] = 'tape'): CountResult {
  const good = drawnCount(ROW);
  const readings = good.reference.readings.map((r) => ({ ...r, xPx: 100 + (r.xPx - 100) * (1880 / 2000) }));
  const scale = 2000 / 1880;
  const wrong: Homography = [0.001 * scale, 0, -0.1 * scale, 0, -0.001 * scale, 0.5 * scale, 0, 0, 1];
  return {
    ...good,
    reference: { ...good.reference, kind, readings, photoToGround: wrong },
    plants: good.plants.map((p) => {
      const [alongM, acrossM] = applyHomography(wrong, [p.xPx, p.yPx]);
      return { ...p, alongM, acrossM, inStretch: alongM <= 2 };
    }),
  };
}

const truth = drawnCount(ROW);
const there = (readingM: number) => ({ kind: 'move reading', readingM, xPx: 100 + 1000 * readingM, yPx: 500 }) as const;
/** What the lens and the hand leave open, beside a line 10 cm away: the share of it that a few per cent of scale make. */
const CLOSE_M = 0.004;

describe('a reading put in its place', () => {
  it('the scene is the one its camera makes', () => {
    const [alongM, acrossM] = applyHomography(photoToGround(DOWN), [600, 400]);
    expect([alongM, acrossM]).toEqual([expect.closeTo(0.5, 6), expect.closeTo(0.1, 6)]);
    expect(applyHomography(groundToPhoto(DOWN), [0.5, 0.1])).toEqual([expect.closeTo(600, 6), expect.closeTo(400, 6)]);
  });

  it.each(['tape', 'rod', 'marks', 'cards', 'frame'] as const)('solves everything again beside a %s', (kind) => {
    const wrong = misread(kind);
    expect(replay(wrong, []).plants.at(-1)!.alongM).toBeGreaterThan(2);
    // All five put where they belong, as a person can in a few seconds.
    const mended = replay(wrong, madeBy([0, 0.5, 1, 1.5, 2].map(there)));
    mended.plants.forEach((plant, i) => {
      expect(Math.abs(plant.alongM! - truth.plants[i]!.alongM!)).toBeLessThan(CLOSE_M);
    });
    expect(mended.count.value).toBe(truth.count.value);
    expect(mended.population!.perAcre).toBeCloseTo(truth.population!.perAcre, 6);
    expect(mended.reference.cues[0]).toBe('5 readings placed by Ann');
    expect(mended.stretch).toEqual(wrong.stretch);
    expect(mended.placedReadings.map((r) => r.readingM)).toEqual([0, 0.5, 1, 1.5, 2]);
  });

  it.each([
    ['both ends', [0, 2]],
    ['the wrong end alone', [2]],
  ])('%s carry along what the machine read between them', (_name, placed) => {
    const mended = replay(misread(), madeBy(placed.map(there)));
    const far = Math.max(...mended.plants.map((plant, i) => Math.abs(plant.alongM! - truth.plants[i]!.alongM!)));
    expect(far).toBeLessThan(CLOSE_M);
    const between = mended.reference.readings.map((r) => r.xPx);
    [100, 600, 1100, 1600, 2100].forEach((xPx, i) => {
      expect(between[i]).toBeCloseTo(xPx, 6);
    });
  });

  it('taken back gives the machine plane; moved twice, the last place stands', () => {
    const wrong = misread();
    const [move] = madeBy([there(2)]);
    const undo = {
      id: 'u',
      at: '2026-06-16T16:00:00Z',
      by: 'Ann',
      change: { kind: 'undo', correctionId: move!.id },
    } as const;
    expect(replay(wrong, [move!, undo])).toEqual(replay(wrong, []));
    const twice = replay(wrong, madeBy([{ ...there(2), xPx: 1500 }, there(2)]));
    expect(twice.plants).toEqual(replay(wrong, madeBy([there(2)])).plants);
  });

  it('a plant added before the plane was mended keeps its pixel and gets its new place', () => {
    const mended = replay(
      misread(),
      madeBy([{ kind: 'add plant', plantId: 'n', xPx: 1200, yPx: 400 }, ...[0, 0.5, 1, 1.5, 2].map(there)]),
    );
    const added = mended.plants.find((p) => p.id === 'n')!;
    expect([added.xPx, added.yPx]).toEqual([1200, 400]);
    expect(Math.abs(added.alongM! - 1.1)).toBeLessThan(CLOSE_M);
  });

  it('readings that fit no camera leave the plane shifted, turned and scaled, never undefined', () => {
    const crossed = replay(
      misread(),
      madeBy([
        { ...there(0), xPx: 1900 },
        { ...there(2), xPx: 200 },
      ]),
    );
    for (const { alongM, acrossM } of crossed.plants) {
      expect(Number.isFinite(alongM)).toBe(true);
      expect(Number.isFinite(acrossM)).toBe(true);
    }
  });

  it('shows a handful of readings to drag: the ends and a few between, or the ends alone', () => {
    const many = {
      ...truth.reference,
      readings: Array.from({ length: 41 }, (_, i) => ({ xPx: i, yPx: 0, readingM: i / 20 })),
    };
    expect(handleReadings(many).map((r) => r.readingM)).toEqual([0, 0.5, 1, 1.5, 2]);
    expect(handleReadings({ ...truth.reference, readings: [] }).map((r) => r.readingM)).toEqual([0, 2]);
    expect(handleReadings({ ...truth.reference, readings: [], endsPx: null, endsM: null })).toEqual([]);
  });
});
