import { describe, expect, it } from 'vitest';
import { projectPoint } from '../../../../src/core/geometry/camera.ts';
import { applyHomography } from '../../../../src/core/geometry/homography.ts';
import type { Point } from '../../../../src/core/geometry/point.ts';
import { MARKER_CELLS, MARKER_SIDE_M, markerCells } from '../../../../src/core/reference/cards/cardDesign.ts';
import { findReference } from '../../../../src/core/reference/findReference.ts';
import { findMarked } from '../../../../src/core/reference/marks/findMarked.ts';
import { RESTING_HEIGHT } from '../../../../src/core/reference/plane/restingHeight.ts';
import type { CameraCues, FoundReference, NoReference, Reading } from '../../../../src/core/reference/reference.ts';
import { closeScene, NEAR_CAMERA } from '../../../support/closeScene.ts';
import { drawLineScene, groundToPhoto, type StripPaint } from '../../../support/drawLineScene.ts';
import { groundPicture, lookingAt } from '../../../support/groundScene.ts';
import { tapePaint } from '../../../support/tapePaint.ts';

// All pictures are drawn, no photographs; truth is the drawing's own geometry.
const tapeScene = closeScene(
  tapePaint({
    system: 'cm',
    widthM: 0.016,
    base: [225, 195, 60],
    ink: [25, 25, 25],
    finest: 10,
    edges: 'one',
    numerals: true,
    bigMarks: true,
  }),
  0.016,
);
const tapePhoto = drawLineScene(tapeScene);
const nearCues: CameraCues = { ...NEAR_CAMERA, heightGiven: false, gravity: null, rowWidthM: null };
/** A mark in the middle of the strip, as a person points at it: to the whole pixel. */
const onStrip = (alongM: number, readingM = alongM): Reading => {
  const [x, y] = groundToPhoto(tapeScene, alongM, 0.02);
  return { xPx: Math.round(x), yPx: Math.round(y), readingM };
};

describe('findMarked', () => {
  it('two marks on a tape give the soil that the search gives, and cover the tape from end to end', () => {
    const marked = found(findMarked(tapePhoto, [onStrip(0.1), onStrip(0.8)], nearCues));
    expect(marked).toMatchObject({ kind: 'marks', on: 'tape', endsM: [0.1, 0.8] });
    expect(marked.warnings.filter((w) => w.code.startsWith('mark'))).toEqual([]);
    const searched = found(findReference(tapePhoto, { kind: 'tape', graduations: 'cm' }, nearCues));
    // A pixel of pointing is 1.4 mm at each end; 3 mm is that at two ends and a tenth of a spacing.
    for (const across of [-0.13, 0.02, 0.17]) {
      for (const along of [0.1, 0.45, 0.8]) {
        const p = groundToPhoto(tapeScene, along, across);
        const [a, b] = [applyHomography(marked.photoToGround, p), applyHomography(searched.photoToGround, p)];
        expect(Math.abs(a[0] - b[0])).toBeLessThan(0.003);
        expect(Math.abs(a[1] - b[1])).toBeLessThan(0.003);
      }
    }
    for (const along of [0.01, 0.3, 0.6, 0.89]) {
      for (const side of [-0.007, 0.007]) {
        expect(marked.coveredPx.some((o) => inside(groundToPhoto(tapeScene, along, 0.02 + side), o))).toBe(true);
      }
      expect(marked.coveredPx.some((o) => inside(groundToPhoto(tapeScene, along, 0.05), o))).toBe(false);
    }
  });

  it('the print of the tape makes two marks surer, and tells how readings crowd between them', () => {
    const marks = [onStrip(0.1), onStrip(0.8)];
    const marked = found(findMarked(tapePhoto, marks, nearCues));
    const [a] = applyHomography(marked.photoToGround, groundToPhoto(tapeScene, 0.45, 0.02));
    expect(Math.abs(a - 0.45)).toBeLessThan(0.0015);
    // shown, and moved by hand, is what was marked
    expect(marked.readings.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM }))).toEqual(
      marks.map(({ xPx, yPx, readingM }) => ({ xPx, yPx, readingM })),
    );
  });

  it('reads a tape that runs the other way: the readings are those marked', () => {
    const marked = found(findMarked(tapePhoto, [onStrip(0.1, 5), onStrip(0.8, 4.3)], nearCues));
    expect(marked.on).toBe('tape');
    const [a] = applyHomography(marked.photoToGround, groundToPhoto(tapeScene, 0.3, 0.02));
    expect(Math.abs(a - 4.8)).toBeLessThan(0.003);
  });

  it('marks that differ from the print by 1 % decide the scale, and it is said', () => {
    const marked = found(
      findMarked(
        tapePhoto,
        [0.1, 0.3, 0.5, 0.8].map((m) => onStrip(m, 1.01 * m)),
        nearCues,
      ),
    );
    expect(marked.warnings.map((w) => w.code)).toContain('marks-off-print');
    const at = (m: number) => applyHomography(marked.photoToGround, groundToPhoto(tapeScene, m, 0.02))[0];
    // The soil lies the tape's resting height below the marks, 0.85 m from the camera. 0.4 % is a pixel at each end over
    // 0.7 m: clearly nearer to the marks than to the print.
    const wanted = 1.01 * (1 + RESTING_HEIGHT.tape.heightM / 0.85);
    expect(Math.abs((at(0.8) - at(0.1)) / 0.7 - wanted)).toBeLessThan(0.004);
  });

  it('two marks on a plain strip, flat or round: covered, lifted half way, with the wider doubt', () => {
    const white: StripPaint = () => [230, 230, 225];
    const photo = drawLineScene(closeScene(white, 0.02));
    const marks = [onStrip(0), onStrip(0.9)];
    const marked = found(findMarked(photo, marks, nearCues));
    expect(marked.on).toBe('strip');
    expect(marked.coveredPx.some((o) => inside(groundToPhoto(tapeScene, 0.4, 0.02), o))).toBe(true);
    const bare = found(findMarked(drawLineScene({ ...tapeScene, strips: [] }), marks, nearCues));
    // A rod 20 mm thick lifts marks 10 to 20 mm more than a tape: half of it is 5 to 10 mm.
    const lower = marked.camera!.heightM - bare.camera!.heightM;
    expect(lower).toBeGreaterThan(0.005);
    expect(lower).toBeLessThan(0.012);
  });

  it('marks at the borders of bands name them: the borders found give the scale, finer than was pointed', () => {
    const bands: StripPaint = (along) => (Math.floor(along / 0.15) % 2 === 0 ? [200, 45, 35] : [235, 235, 230]);
    const photo = drawLineScene(closeScene(bands, 0.02));
    // a pixel and a half outwards at either end: 2.6 mm of 0.6 m by the marks alone
    const off = (mark: Reading, byPx: number): Reading => ({ ...mark, xPx: mark.xPx + byPx });
    const left = off(onStrip(0.15, 2.15), -1.5);
    const right = off(onStrip(0.75, 2.75), 1.5);
    const marked = found(findMarked(photo, [left, right], nearCues));
    expect(marked).toMatchObject({ kind: 'marks', on: 'rod', endsM: [2.15, 2.75] });
    const searched = found(findReference(photo, { kind: 'rod', bandM: 0.15 }, nearCues));
    const lengthBy = ({ photoToGround }: FoundReference): number => {
      const [a, b] = [0.15, 0.75].map((m) => applyHomography(photoToGround, groundToPhoto(tapeScene, m, 0.02))[0]);
      return b! - a!;
    };
    // both read the same borders, traced anew: a fifth of a pixel at each end
    expect(Math.abs(lengthBy(marked) - Math.abs(lengthBy(searched)))).toBeLessThan(0.0006);
    // readings that even bands do not have are the person's: the scale is that of the marks as pointed
    const odd = found(findMarked(photo, [left, onStrip(0.45, 2.44), right], nearCues));
    expect(lengthBy(odd)).toBeLessThan(Math.abs(lengthBy(searched)) - 0.0006);
  });

  it('marks on bare soil stand for themselves: nothing is covered', () => {
    const bare = drawLineScene({ ...tapeScene, strips: [] });
    const marked = found(findMarked(bare, [onStrip(0.1), onStrip(0.45), onStrip(0.8)], nearCues));
    expect(marked.on).toBeUndefined();
    expect(marked.coveredPx).toEqual([]);
    const [a] = applyHomography(marked.photoToGround, groundToPhoto(tapeScene, 0.6, 0.02));
    expect(Math.abs(a - 0.6)).toBeLessThan(0.004);
  });
});

const SIZE = { widthPx: 1300, heightPx: 600, focalPx: 960 };
const cues: CameraCues = { ...nearCues, focalPx: SIZE.focalPx, heightM: 1.5, heightSdM: 0.25 };

describe('findMarked on cards', () => {
  const camera = lookingAt([0.95, -1.35, 1.45], [0.9, 0, 0], SIZE, 0.02);
  const cards = [0, 1].map((id) => ({ atM: 1.8 * id, cells: markerCells(id) }));
  const photo = groundPicture(camera, SIZE.widthPx, SIZE.heightPx, (along, across) => {
    for (const { atM, cells } of cards) {
      const x = along - atM;
      if (Math.abs(x) > 0.105 || Math.abs(across) > 0.1485) continue;
      const column = Math.floor((x / MARKER_SIDE_M + 0.5) * MARKER_CELLS);
      const row = Math.floor((0.5 - across / MARKER_SIDE_M) * MARKER_CELLS);
      const printed = column >= 0 && row >= 0 && column < MARKER_CELLS && row < MARKER_CELLS;
      return printed && !cells[row]![column] ? 0.03 : 0.8;
    }
    return null;
  });
  const mark = (alongM: number, readingM: number): Reading => {
    const [xPx, yPx] = projectPoint(camera, [alongM, 0, 0]);
    return { xPx, yPx, readingM };
  };
  const beside = [0.2, 0.9, 1.6].flatMap((x) => [-0.2, 0.2].map((y) => projectPoint(camera, [x, y, 0])));

  it('gives the soil of the cards, what they cover, and the zero of the marks', () => {
    const marked = found(findMarked(photo, [mark(0, 10), mark(1.8, 11.8)], cues));
    expect(marked).toMatchObject({ kind: 'marks', on: 'cards', endsM: [10, 11.8] });
    expect(marked.coveredPx).toHaveLength(2);
    const searched = found(findReference(photo, { kind: 'cards' }, cues));
    for (const p of beside) {
      const [a, b] = [applyHomography(marked.photoToGround, p), applyHomography(searched.photoToGround, p)];
      expect(Math.abs(a[0] - 10 - b[0])).toBeLessThan(0.003);
      expect(Math.abs(a[1] - b[1])).toBeLessThan(0.003);
    }
    expect(Math.abs(marked.camera!.alongM - 10 - searched.camera!.alongM)).toBeLessThan(0.01);
  });

  it('the marks decide the scale: cards printed a tenth too large are said', () => {
    const marked = found(findMarked(photo, [mark(0, 0), mark(1.8, 1.98)], cues));
    expect(marked.warnings.map((w) => w.code)).toContain('marks-off-cards');
    const [a, b] = [0.2, 1.6].map((x) => applyHomography(marked.photoToGround, projectPoint(camera, [x, 0.2, 0])));
    // The soil lies the cards' resting height below the marks, so much farther from the camera at 1.45 m.
    const farther = 1 + RESTING_HEIGHT.cards.heightM / 1.45;
    expect((b![0] - a![0]) / 1.4).toBeCloseTo(1.1 * farther, 2);
    expect(marked.camera!.heightM).toBeCloseTo(1.1 * 1.45, 1);
  });
});

describe('findMarked on a frame', () => {
  it('marks at two corners: all four bars are covered, and it is known as a frame', () => {
    const size = { widthPx: 1000, heightPx: 750, focalPx: 790 };
    const camera = lookingAt([0.45, -0.35, 1.35], [0.5, 0.22, 0], size, 0.03);
    const photo = groundPicture(camera, size.widthPx, size.heightPx, (x, y) => {
      const outside = x < -0.025 || y < -0.025 || x > 1.025 || y > 0.525;
      return outside || (x > 0 && y > 0 && x < 1 && y < 0.5) ? null : 0.75;
    });
    const marks = [0, 1].map((x) => {
      const [xPx, yPx] = projectPoint(camera, [x, 0, 0]);
      return { xPx, yPx, readingM: x };
    });
    const marked = found(findMarked(photo, marks, { ...cues, focalPx: size.focalPx }));
    expect(marked.on).toBe('frame');
    for (const [x, y] of [
      [0.5, -0.012],
      [1.012, 0.25],
      [0.5, 0.512],
      [-0.012, 0.25],
    ] as const) {
      expect(marked.coveredPx.some((o) => inside(projectPoint(camera, [x, y, 0]), o))).toBe(true);
    }
  });
});

function found(result: FoundReference | NoReference): FoundReference {
  if (result.kind === 'none') throw new Error(result.reason);
  return result;
}

/** Even-odd rule. */
function inside([x, y]: Point, outline: readonly Point[]): boolean {
  let odd = false;
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]!;
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  });
  return odd;
}
