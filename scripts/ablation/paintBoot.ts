import type { OverlayOptions } from 'sharp';
import { makeCamera, project } from '../scenes/camera.ts';
import type { SceneSpec } from '../scenes/spec.ts';

const COLOURS = ['#5b6b2f', '#2f5a35', '#6a4a2c', '#3d5f8a'];
/** Outline of a boot seen from above, heel at 0, metres along and across its middle line. */
const SOLE: readonly (readonly [number, number])[] = [
  [0, 0.03],
  [0.05, 0.037],
  [0.12, 0.034],
  [0.2, 0.048],
  [0.26, 0.045],
  [0.29, 0.02],
  [0.3, 0],
  [0.29, -0.025],
  [0.26, -0.048],
  [0.2, -0.052],
  [0.12, -0.036],
  [0.05, -0.036],
  [0, -0.03],
];

/** A boot painted on the row of a rendered picture: a flat shape with shading and laces, green rubber among the colours. */
export function paintBoot(spec: SceneSpec): OverlayOptions {
  const camera = makeCamera(spec.camera, spec.widthPx, spec.heightPx);
  const middle = (spec.stretch.fromM + spec.stretch.toM) / 2;
  const turn = 0.5 + spec.seed;
  const place = (along: number, across: number, up = 0.05): string => {
    const x = middle + along * Math.cos(turn) - across * Math.sin(turn);
    const y = spec.rowAcrossM + along * Math.sin(turn) + across * Math.cos(turn);
    const { xPx, yPx } = project(camera, [x, y, up]);
    return `${xPx.toFixed(1)},${yPx.toFixed(1)}`;
  };
  const outline = (share: number, up: number) =>
    SOLE.map(([a, c]) => place(0.15 + (a - 0.15) * share, c * share, up)).join(' ');
  const colour = COLOURS[spec.seed % COLOURS.length]!;
  const laces = [0.13, 0.15, 0.17, 0.19]
    .map(
      (a) => `<polyline points="${place(a, -0.02, 0.09)} ${place(a, 0.02, 0.09)}" stroke="#d8d2c0" stroke-width="4"/>`,
    )
    .join('');
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${spec.widthPx}" height="${spec.heightPx}">` +
    `<defs><linearGradient id="g"><stop offset="0" stop-color="${colour}"/><stop offset="1" stop-color="#1d1d18"/></linearGradient></defs>` +
    `<polygon points="${outline(1.04, 0.01)}" fill="#1b1712"/>` +
    `<polygon points="${outline(1, 0.05)}" fill="url(#g)"/>` +
    `<polygon points="${outline(0.6, 0.09)}" fill="${colour}"/>${laces}</svg>`;
  return { input: Buffer.from(svg), left: 0, top: 0 };
}
