import type { LineScene, StripPaint } from './drawLineScene.ts';

/** A small picture of a strip 0.9 m long from 0.85 m above, a little oblique, on brown soil with a few leaves. */
export function closeScene(
  paint: StripPaint,
  widthM: number,
  change: Partial<LineScene> & { readonly toM?: number; readonly bowM?: number } = {},
): LineScene {
  const { toM = 0.9, bowM = 0, ...rest } = change;
  return {
    widthPx: 1280,
    heightPx: 720,
    focalPx: 1000,
    cameraM: [0.4, -0.25, 0.85],
    lookAtM: [0.46, 0],
    rollDeg: 3,
    strips: [{ paint, fromM: 0, toM, widthM, bowM, acrossM: 0.02, turnDeg: 0 }],
    soil: [120, 90, 65],
    roughness: 1,
    leaves: 25,
    straws: 20,
    shadows: 0,
    noise: 5,
    seed: 5,
    ...rest,
  };
}

export const NEAR_CAMERA = { focalPx: 1000, heightM: 0.85, heightSdM: 0.1 } as const;
