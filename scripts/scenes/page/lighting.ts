import type { LightSpec } from '../spec.ts';
import { heading, type Vec3 } from '../vector.ts';

export type Lighting = {
  readonly sunDirection: Vec3;
  /** Irradiance on a surface square to the sun, and of the open sky on a level one; linear RGB, arbitrary unit. */
  readonly sun: Vec3;
  readonly sky: Vec3;
  /** Sky directions with weights that make an open level surface receive 1. */
  readonly directions: readonly { readonly direction: Vec3; readonly weight: number }[];
};

/** Sun and sky; shares of direct and diffuse light as on clear, hazy and overcast days (common practice, no source). */
export function makeLighting(spec: LightSpec, count: number): Lighting {
  const elevation = (spec.sunElevationDeg * Math.PI) / 180;
  const azimuth = (spec.sunAzimuthDeg * Math.PI) / 180;
  const warm = Math.max(0, 1 - spec.sunElevationDeg / 45);
  const air = Math.exp(-0.12 / Math.sin(Math.max(0.12, elevation)));
  const strength = spec.sky === 'sun' ? 1.15 * air : spec.sky === 'hazy' ? 0.62 * air : 0;
  const sun: Vec3 = [strength, strength * (0.93 - 0.12 * warm), strength * (0.82 - 0.34 * warm)];
  const sky: Vec3 =
    spec.sky === 'sun' ? [0.13, 0.165, 0.22] : spec.sky === 'hazy' ? [0.26, 0.29, 0.33] : [0.44, 0.47, 0.5];
  const raw = Array.from({ length: count }, (_, i) => {
    // Fibonacci points over the half sphere above 8 degrees.
    const z = 0.14 + 0.86 * ((i + 0.5) / count);
    const direction = heading(i * 2.399963 + 0.7, Math.asin(z));
    // CIE overcast sky (Moon and Spencer 1942) or a clear one, brighter low and round the sun.
    const cosSun =
      direction[0] * Math.cos(elevation) * Math.cos(azimuth) +
      direction[1] * Math.cos(elevation) * Math.sin(azimuth) +
      z * Math.sin(elevation);
    const radiance = spec.sky === 'overcast' ? (1 + 2 * z) / 3 : 0.6 + 0.5 * (1 - z) + 0.9 * Math.max(0, cosSun) ** 6;
    return { direction, radiance, z };
  });
  const total = raw.reduce((sum, r) => sum + r.radiance * r.z, 0);
  return {
    sunDirection: heading(azimuth, elevation),
    sun,
    sky,
    directions: raw.map((r) => ({ direction: r.direction, weight: r.radiance / total })),
  };
}
