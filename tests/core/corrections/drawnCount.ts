import type { Correction } from '../../../src/core/corrections/correction.ts';
import type { CountedPlant, CountResult } from '../../../src/core/count/countResult.ts';
import { measureRow } from '../../../src/core/count/measureRow.ts';
import { applyHomography, type Homography, invertHomography } from '../../../src/core/geometry/homography.ts';
import { countInterval } from '../../../src/core/plants/countInterval.ts';

/** 1 mm of soil a pixel, along to the right, across up, zero at pixel (100, 500). */
const STRAIGHT_DOWN: Homography = [0.001, 0, -0.1, 0, -0.001, 0.5, 0, 0, 1];
const ROW_WIDTH_M = 0.762;

/**
 * A photo's count drawn as text, one letter a decimetre: `x` a sure plant, `o` a less sure one, `d` perhaps two, `w` a
 * weed, `?` could not tell, `.` bare soil. The stretch is from end to end; `margin` letters at both ends lie outside it.
 */
export function drawnCount(row: string, { margin = 0, toGround = STRAIGHT_DOWN } = {}): CountResult {
  const toPhoto = invertHomography(toGround);
  const lengthM = (row.length - 2 * margin) / 10;
  const [fromM, toM] = [0, lengthM];
  const plants = [...row].flatMap((letter, i): CountedPlant[] => {
    if (letter === '.') return [];
    const alongM = (i - margin + 0.5) / 10;
    const [xPx, yPx] = applyHomography(toPhoto, [alongM, 0.1]);
    const chance = { x: 0.95, o: 0.6, d: 0.6, w: 0.02, '?': 0.5 }[letter] ?? 0;
    return [
      {
        id: `p${i}`,
        xPx,
        yPx,
        alongM,
        acrossM: 0.1,
        kind: letter === 'w' ? 'weed' : letter === '?' ? 'unsure' : 'plant',
        inStretch: alongM >= fromM && alongM <= toM,
        confidence: chance,
        doubleChance: { d: 0.35, w: 0 }[letter] ?? 0.01,
        alongSdMm: 4,
      },
    ];
  });
  const inside = plants.filter((p) => p.inStretch);
  const count = countInterval(inside, 0.9);
  const readings = [0, 0.25, 0.5, 0.75, 1].map((share) => {
    const [xPx, yPx] = applyHomography(toPhoto, [share * lengthM, 0]);
    return { xPx, yPx, readingM: share * lengthM };
  });
  const alongErrorMm = 5;
  return {
    schema: 'rowledger/count@1',
    photo: { file: 'drawn.jpg', sha256: 'aa', widthPx: 4000, heightPx: 1000, takenAt: null, position: null },
    reference: {
      kind: 'tape',
      endsPx: [
        [readings[0]!.xPx, readings[0]!.yPx],
        [readings[4]!.xPx, readings[4]!.yPx],
      ],
      endsM: [0, lengthM],
      photoToGround: toGround,
      alongErrorMm,
      reason: null,
      cues: ['5 readings along the tape'],
      readings,
    },
    stretch: { fromM, toM, lengthM },
    setting: {
      rowWidthM: ROW_WIDTH_M,
      seedSpacingM: null,
      gapM: 0.3,
      cues: {
        focalPx: 3000,
        heightM: 3,
        heightSdM: 0.1,
        heightGiven: true,
        gravity: [0, 0, 1],
        rowWidthM: ROW_WIDTH_M,
      },
    },
    detector: { name: 'drawn', version: '1' },
    plants,
    count,
    ...measureRow({
      positionsM: inside.filter((p) => p.kind === 'plant').map((p) => p.alongM as number),
      fromM,
      toM,
      count,
      rowWidthM: ROW_WIDTH_M,
      seedSpacingM: null,
      gapM: 0.3,
      lengthErrorShare: alongErrorMm / 1000 / lengthM,
    }),
    warnings: [],
    timingsMs: { total: 0 },
  };
}

/** Records made one second after the other by Ann. */
export function madeBy(changes: readonly Correction['change'][], by = 'Ann'): Correction[] {
  return changes.map((change, i) => ({
    id: `k${i}`,
    at: new Date(Date.UTC(2026, 5, 16, 15, 0, i)).toISOString(),
    by,
    change,
  }));
}
