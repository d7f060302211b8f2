import type { Warning } from '../reference.ts';

/** Lengths that bands of rods are painted in, metres: round centimetres, inches and feet. Common practice, no source. */
const USUAL_M = [
  0.02, 0.0254, 0.05, 0.0508, 0.0762, 0.1, 0.1016, 0.15, 0.1524, 0.2, 0.2032, 0.25, 0.254, 0.3, 0.3048, 0.4, 0.4572,
  0.5, 0.6096, 0.9144, 1,
];
/** Ends of a rod are worn or capped: a band by its whole length is good to this share. */
const NEAR = 0.02;

/** A warning where the length named for a banded rod makes its bands of a length that none is painted in. */
export function oddBands(bandM: number, bands: number, lengthM: number): Warning[] {
  if (USUAL_M.some((usual) => Math.abs(bandM / usual - 1) < NEAR)) return [];
  return [
    {
      code: 'bands-odd',
      message: `By the length of ${lengthM.toFixed(2)} m each of its ${bands} bands would be ${(100 * bandM).toFixed(1)} cm long, which is unusual: check the length of the rod.`,
    },
  ];
}
