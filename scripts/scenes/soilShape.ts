import type { Colour } from './mesh.ts';
import { hash2, octaves, valueNoise, worley } from './noise.ts';
import type { SoilSpec, SoilTone } from './spec.ts';

/** Height of the soil at a ground point; `detailM` leaves out relief finer than this (far from the camera). */
export type SoilShape = {
  readonly heightM: (along: number, across: number, detailM?: number) => number;
  readonly colour: (along: number, across: number, detailM: number) => Colour;
};

/** Linear reflectance of the bare soil, dry side up; after Munsell chips of common field soils, from memory. */
const TONES: Readonly<Record<SoilTone, readonly [Colour, Colour]>> = {
  'dark-wet': [
    [0.045, 0.034, 0.026],
    [0.075, 0.058, 0.045],
  ],
  brown: [
    [0.13, 0.088, 0.056],
    [0.2, 0.142, 0.095],
  ],
  'red-brown': [
    [0.2, 0.105, 0.05],
    [0.29, 0.17, 0.09],
  ],
  grey: [
    [0.12, 0.11, 0.1],
    [0.22, 0.205, 0.19],
  ],
  'pale-dry': [
    [0.27, 0.21, 0.145],
    [0.4, 0.33, 0.24],
  ],
};

const mix = (a: number, b: number, t: number): number => a + (b - a) * t;
const step = (low: number, high: number, x: number): number => {
  const t = Math.max(0, Math.min(1, (x - low) / (high - low)));
  return t * t * (3 - 2 * t);
};
/** Fades a layer out when its features get close to the wanted detail. */
const keep = (featureM: number, detailM: number): number => 1 - step(0.35, 1.1, detailM / featureM);

/** Round clods on a jittered lattice; `share` of the cells hold one. */
function clods(x: number, y: number, sizeM: number, share: number, seed: number): number {
  const c = worley(x / sizeM, y / sizeM, seed);
  if (c.id > share) return 0;
  const radius = 0.28 + 0.3 * (c.id / share);
  const bumpy = c.d1 + 0.09 * valueNoise((x / sizeM) * 4, (y / sizeM) * 4, seed + 5);
  const inside = 1 - (bumpy / radius) ** 2;
  return inside > 0 ? sizeM * radius * 0.62 * Math.sqrt(inside) : 0;
}

/** How deep in a crack, 0..1, for a network of cells of this size. */
function crack(x: number, y: number, sizeM: number, widthM: number, seed: number): number {
  const wx = x + 0.22 * sizeM * octaves((x / sizeM) * 1.7, (y / sizeM) * 1.7, seed + 31, 2);
  const wy = y + 0.22 * sizeM * octaves((x / sizeM) * 1.7, (y / sizeM) * 1.7, seed + 47, 2);
  const c = worley(wx / sizeM, wy / sizeM, seed, 0.85);
  const edge = (c.d2 - c.d1) * sizeM * 0.5;
  const width = widthM * (0.5 + valueNoise((x / sizeM) * 1.3, (y / sizeM) * 1.3, seed + 3) * 0.5 + 0.25);
  return 1 - step(0.25 * width, width, edge);
}

export function makeSoilShape(
  spec: SoilSpec,
  rowAcross: (along: number) => number,
  rowWidthM: number,
  seed: number,
): SoilShape {
  const r = spec.relief;
  const cloddy = spec.surface === 'cloddy' ? 1 : spec.surface === 'crumb' ? 0.6 : 0.12;
  const crumb = spec.surface === 'crumb' ? 1 : spec.surface === 'cloddy' ? 0.8 : 0.22;
  const crust = spec.surface === 'crust' || spec.surface === 'cracked' ? 1 : 0;

  const cracks = (x: number, y: number, detailM: number): number => {
    if (spec.surface === 'cracked') {
      const big = crack(x, y, 0.115, 0.0065, seed + 200) * keep(0.012, detailM);
      return Math.max(big, 0.3 * crack(x, y, 0.05, 0.0034, seed + 230) * keep(0.006, detailM));
    }
    if (spec.surface === 'crust') return 0.45 * crack(x, y, 0.19, 0.0045, seed + 260) * keep(0.008, detailM);
    return 0;
  };

  const fromRow = (x: number, y: number): number => {
    const d = (y - rowAcross(x)) / rowWidthM;
    return (d - Math.round(d)) * rowWidthM;
  };

  const profile = (x: number, y: number): number => {
    const d = fromRow(x, y);
    const ridge = Math.exp(-(((Math.abs(d) - 0.065) / 0.03) ** 2));
    // A press wheel bounces: the furrow is deeper here, gone there.
    const press = Math.max(0, 0.65 + 0.6 * octaves(x * 1.1, y * 0.9, seed + 60, 3));
    let h = spec.furrowDepthM * press * (0.45 * ridge - Math.exp(-((d / 0.035) ** 2)));
    if (spec.wheelTrack) {
      const middle = rowWidthM / 2;
      const side = (y - rowAcross(x)) / rowWidthM;
      if (Math.floor(side) % 3 === 0) {
        const off = Math.abs(Math.abs(d) - middle);
        const inTrack = 1 - step(0.1, 0.14, off);
        const lug = step(0.1, 0.5, Math.sin((x + 0.8 * off) * 52));
        h -= inTrack * (0.022 - 0.012 * lug);
      }
    }
    return h;
  };

  const heightM = (x: number, y: number, detailM = 0.001): number => {
    let h = 0.007 * r * valueNoise(x * 1.3, y * 1.3, seed) + 0.006 * r * valueNoise(x * 4.1, y * 4.1, seed + 1);
    h += profile(x, y);
    const calm = Math.abs(fromRow(x, y)) < 0.05 ? 0.55 : 1;
    h += cloddy * r * calm * (clods(x, y, 0.085, 0.3, seed + 10) + clods(x, y, 0.042, 0.45, seed + 11));
    h += crumb * r * calm * keep(0.015, detailM) * 0.9 * clods(x, y, 0.021, 0.7, seed + 12);
    if (detailM < 0.009) h += crumb * r * keep(0.007, detailM) * clods(x, y, 0.0105, 0.8, seed + 13);
    if (crust > 0) {
      h += 0.0035 * r * octaves(x * 14, y * 14, seed + 20, 2);
      const c = cracks(x, y, detailM);
      h -= 0.011 * c;
      if (spec.surface === 'cracked') h += 0.004 * r * valueNoise(x * 9, y * 9, seed + 24);
    }
    if (detailM < 0.02) h += 0.0013 * r * keep(0.014, detailM) * octaves(x * 45, y * 45, seed + 30, 2);
    if (detailM < 0.006) h += 0.00035 * r * keep(0.0045, detailM) * octaves(x * 190, y * 190, seed + 40, 2);
    return h;
  };

  const [low, high] = TONES[spec.tone];
  const colour = (x: number, y: number, detailM: number): Colour => {
    const patch = 0.5 + 0.5 * octaves(x * 1.6, y * 1.6, seed + 90, 3) * 0.8;
    const grain = hash2(Math.floor(x / 0.012), Math.floor(y / 0.012), seed + 91) - 0.5;
    const lump = worley(x / 0.03, y / 0.03, seed + 92).id - 0.5;
    let t = patch + 0.25 * lump * keep(0.02, detailM) + 0.14 * grain * keep(0.01, detailM);
    const inRow = Math.exp(-((fromRow(x, y) / 0.06) ** 2));
    t -= 0.22 * inRow * (spec.furrowDepthM > 0 ? 1 : 0);
    t = Math.max(-0.25, Math.min(1.3, t));
    const dark = 1 - 0.62 * cracks(x, y, detailM);
    const warm = 1 + 0.05 * valueNoise(x * 7, y * 7, seed + 95);
    return [
      mix(low[0], high[0], t) * dark * warm,
      mix(low[1], high[1], t) * dark,
      (mix(low[2], high[2], t) * dark) / warm,
    ];
  };
  return { heightM, colour };
}
