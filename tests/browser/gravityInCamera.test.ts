import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gravityInCamera } from '../../src/browser/sensors/gravityInCamera.ts';

/**
 * Worked by hand from the axes of the W3C Device Orientation and Motion specification (section 4.1): flat on a table
 * beta and gamma are 0; held upright beta is 90; right side down from flat gamma is 90.
 */
describe('gravity in the axes of the back camera', () => {
  test.each([
    ['flat, screen up: the camera looks down, gravity runs into the scene', 0, 0, 0, [0, 0, 1]],
    ['upright: gravity runs down the picture', 90, 0, 0, [0, 1, 0]],
    ['half way between', 45, 0, 0, [0, Math.SQRT1_2, Math.SQRT1_2]],
    ['flat, then right side down: gravity runs to the right', 0, 90, 0, [1, 0, 0]],
    ['on its left side, picture turned with it: down the picture again', 0, -90, 90, [0, 1, 0]],
    ['on its right side, picture turned with it', 0, 90, 270, [0, 1, 0]],
    ['upside down, picture turned with it', -90, 0, 180, [0, 1, 0]],
  ] as const)('%s', (_name, betaDeg, gammaDeg, screenAngleDeg, wanted) => {
    const found = gravityInCamera({ betaDeg, gammaDeg, screenAngleDeg });
    found.forEach((part, i) => {
      expect(part).toBeCloseTo(wanted[i] as number, 12);
    });
  });

  test('is a unit vector, and turning the picture turns it about the view alone', () => {
    const angle = fc.double({ min: -180, max: 180, noNaN: true });
    fc.assert(
      fc.property(angle, angle, fc.constantFrom(0, 90, 180, 270), (betaDeg, gammaDeg, screenAngleDeg) => {
        const [x, y, z] = gravityInCamera({ betaDeg, gammaDeg, screenAngleDeg });
        expect(Math.hypot(x, y, z)).toBeCloseTo(1, 12);
        expect(z).toBeCloseTo(gravityInCamera({ betaDeg, gammaDeg, screenAngleDeg: 0 })[2], 12);
      }),
    );
  });
});
