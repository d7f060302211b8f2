import { describe, expect, it } from 'vitest';
import { makeRaster } from '../../../../src/core/raster/raster.ts';
import type { FoundLine, NoReference } from '../../../../src/core/reference/reference.ts';
import { findRod } from '../../../../src/core/reference/rod/findRod.ts';
import { closeScene } from '../../../support/closeScene.ts';
import { drawLineScene, groundToPhoto, type StripPaint } from '../../../support/drawLineScene.ts';

const WHITE: StripPaint = () => [230, 230, 225];
const BANDED: StripPaint = (along) => (Math.floor(along / 0.15 + 1e-9) % 2 === 0 ? [185, 40, 35] : [230, 230, 225]);

describe('findRod', () => {
  it('finds a plain rod: ends within 2 px, readings between them within 1 % of its length', () => {
    const scene = closeScene(WHITE, 0.02);
    const rod = found(findRod(drawLineScene(scene), { kind: 'rod', lengthM: 0.9 }));
    expect(rod.endsM).toEqual([0, 0.9]);
    for (const r of rod.readings) {
      const [x, y] = groundToPhoto(scene, r.readingM, 0.02);
      const perPx = 0.9 / Math.hypot(rod.endsPx[1][0] - rod.endsPx[0][0], rod.endsPx[1][1] - rod.endsPx[0][1]);
      expect(Math.hypot(r.xPx - x, r.yPx - y) * perPx).toBeLessThan(0.009);
    }
    const [x, y] = groundToPhoto(scene, 0, 0.02);
    expect(Math.hypot(rod.endsPx[0][0] - x, rod.endsPx[0][1] - y)).toBeLessThan(2);
  });

  it('reads bands of known length, leaves over some', () => {
    const scene = closeScene(BANDED, 0.02, { leaves: 70 });
    const rod = found(findRod(drawLineScene(scene), { kind: 'rod', bandM: 0.15 }));
    expect(rod.endsM[1]).toBeCloseTo(0.9, 2);
  });

  it('warns of a named length that makes its bands of no usual length: 90 cm called 1.08 m', () => {
    // Six bands of 15 cm; a fifth too long they would be 18 cm.
    const photo = drawLineScene(closeScene(BANDED, 0.02));
    const codes = (lengthM: number) => found(findRod(photo, { kind: 'rod', lengthM })).warnings.map((w) => w.code);
    expect(codes(0.9)).not.toContain('bands-odd');
    expect(codes(1.08)).toContain('bands-odd');
  });

  it('ends a rod where its last band must end, though soil in its colour goes on', () => {
    const trailing: StripPaint = (along, across) => (along > 0.6 ? [185, 40, 35] : BANDED(along, across));
    const rod = found(findRod(drawLineScene(closeScene(trailing, 0.02, { toM: 0.98 })), { kind: 'rod', bandM: 0.15 }));
    // five bands of 15 cm; the last would be 38 cm long
    expect(rod.endsM[1]).toBeCloseTo(0.75, 2);
  });

  it('refuses two rods', () => {
    const one = closeScene(WHITE, 0.02);
    const scene = { ...one, strips: [one.strips[0]!, { ...one.strips[0]!, acrossM: 0.15 }] };
    const answer = findRod(drawLineScene(scene), { kind: 'rod', lengthM: 0.9 }) as NoReference;
    expect(answer.warnings.map((w) => w.code)).toEqual(['two-references']);
  });

  it('finds a rod beside its shadow, and says how its thickness blurs its ends', () => {
    const one = closeScene(WHITE, 0.02);
    const shade: StripPaint = () => [66, 49, 36];
    const scene = { ...one, strips: [{ ...one.strips[0]!, paint: shade, acrossM: 0.003 }, one.strips[0]!] };
    const rod = found(findRod(drawLineScene(scene), { kind: 'rod', lengthM: 0.9 }));
    const [x, y] = groundToPhoto(scene, 0.9, 0.02);
    expect(Math.hypot(rod.endsPx[1][0] - x, rod.endsPx[1][1] - y)).toBeLessThan(4);
    // a quarter of 2 cm at each of two ends is 7 mm
    expect(rod.lengthErrorMm).toBeGreaterThan(5);
    expect(rod.lengthErrorMm).toBeLessThan(15);
  });

  it('refuses a rod that leaves the photo when only its length is known', () => {
    const scene = closeScene(WHITE, 0.02, { toM: 4 });
    const answer = findRod(drawLineScene(scene), { kind: 'rod', lengthM: 4 }) as NoReference;
    expect(answer.kind).toBe('none');
    expect(answer.reason).toContain('both of its ends');
  });

  it('finds nothing on bare soil, in a blank or a tiny picture', () => {
    const bare = drawLineScene({ ...closeScene(WHITE, 0.02), strips: [], widthPx: 640, heightPx: 480 });
    for (const photo of [bare, makeRaster(300, 200), makeRaster(2, 2)]) {
      expect(findRod(photo, { kind: 'rod', lengthM: 1 }).kind).toBe('none');
      expect(findRod(photo, { kind: 'rod', bandM: 0.1 }).kind).toBe('none');
    }
  });
});

function found(answer: FoundLine | NoReference): FoundLine {
  if (answer.kind === 'none') throw new Error(answer.reason);
  return answer;
}
