import fc from 'fast-check';
import * as THREE from 'three';
import { describe, expect, it } from 'vitest';
import { gravityInCamera, groundAt, makeCamera, photoToGround, project } from '../../../scripts/scenes/camera.ts';
import type { CameraSpec } from '../../../scripts/scenes/spec.ts';
import { scale, type Vec3 } from '../../../scripts/scenes/vector.ts';

const anyCamera = fc
  .record({
    view: fc.constantFrom('down' as const, 'side' as const, 'along' as const),
    focal35: fc.integer({ min: 24, max: 28 }),
    heightM: fc.double({ min: 1, max: 2, noNaN: true }),
    rollDeg: fc.double({ min: -5, max: 5, noNaN: true }),
    faces: fc.constantFrom(1 as const, -1 as const),
    offM: fc.double({ min: -0.3, max: 0.3, noNaN: true }),
  })
  .map(({ view, focal35, heightM, rollDeg, faces, offM }): CameraSpec => {
    const stand = { down: [1 + offM, -0.1], side: [1 + offM, -2 * faces], along: [-1, offM] }[view] as [number, number];
    return {
      view,
      focal35,
      heightM,
      rollDeg,
      faces,
      aimAlongM: 1,
      aimAcrossM: 0.05,
      standAlongM: stand[0],
      standAcrossM: stand[1],
    };
  });

describe('scene camera', () => {
  it('maps projected ground points back to the ground', () => {
    fc.assert(
      fc.property(
        anyCamera,
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: -0.2, max: 0.3, noNaN: true }),
        (spec, x, y) => {
          const camera = makeCamera(spec, 4000, 3000);
          const p = project(camera, [x, y, 0]);
          const h = photoToGround(camera) as [number, number, number, number, number, number, number, number, number];
          const w = h[6] * p.xPx + h[7] * p.yPx + h[8];
          expect((h[0] * p.xPx + h[1] * p.yPx + h[2]) / w).toBeCloseTo(x, 8);
          expect((h[3] * p.xPx + h[4] * p.yPx + h[5]) / w).toBeCloseTo(y, 8);
          const g = groundAt(camera, p.xPx, p.yPx) as Vec3;
          expect(Math.hypot(g[0] - x, g[1] - y)).toBeLessThan(1e-8);
        },
      ),
    );
  });

  it('agrees with the camera of three.js, pixel centres at integers', () => {
    fc.assert(
      fc.property(
        anyCamera,
        fc.double({ min: 0, max: 2, noNaN: true }),
        fc.double({ min: 0, max: 0.2, noNaN: true }),
        (spec, x, z) => {
          const c = makeCamera(spec, 4000, 3000);
          const three = new THREE.PerspectiveCamera((2 * Math.atan(1500 / c.focalPx) * 180) / Math.PI, 4 / 3, 0.05, 60);
          const [right, up, back] = [c.right, scale(c.down, -1), scale(c.ahead, -1)].map(
            (v) => new THREE.Vector3(...v),
          );
          three.matrixWorld
            .makeBasis(right as THREE.Vector3, up as THREE.Vector3, back as THREE.Vector3)
            .setPosition(...(c.position as [number, number, number]));
          three.matrixWorldInverse.copy(three.matrixWorld).invert();
          const ndc = new THREE.Vector3(x, 0.1, z).project(three);
          const p = project(c, [x, 0.1, z]);
          expect((ndc.x * 0.5 + 0.5) * 4000 - 0.5).toBeCloseTo(p.xPx, 5);
          expect((0.5 - ndc.y * 0.5) * 3000 - 0.5).toBeCloseTo(p.yPx, 5);
        },
      ),
    );
  });

  it('has a unit gravity that points down the picture, or into it from above', () => {
    fc.assert(
      fc.property(anyCamera, (spec) => {
        const g = gravityInCamera(makeCamera(spec, 4000, 3000));
        expect(Math.hypot(...g)).toBeCloseTo(1, 10);
        expect(spec.view === 'down' ? g[2] : g[1]).toBeGreaterThan(0.3);
      }),
    );
  });
});
