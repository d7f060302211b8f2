import type { Random } from './random.ts';
import type { SoilShape } from './soilShape.ts';

/** The centre line of something thin laid over the soil, every `stepM` along, with its reading (arc length from zero). */
export type Ribbon = {
  readonly fromM: number;
  readonly toM: number;
  readonly stepM: number;
  readonly across: Float64Array;
  readonly height: Float64Array;
  readonly reading: Float64Array;
};

/**
 * Lays a taut, slightly sagging band over the soil along across = `acrossM`: a string that rests on the high points,
 * spans hollows shorter than about 15 cm and sinks into longer ones.
 */
export function layRibbon(
  soil: SoilShape,
  fromM: number,
  toM: number,
  acrossM: number,
  turnRad: number,
  halfWidthM: number,
  bendM: number,
  random: Random,
): Ribbon {
  const stepM = 0.005;
  const n = Math.max(3, Math.round((toM - fromM) / stepM) + 1);
  const across = new Float64Array(n);
  const ground = new Float64Array(n);
  const phase = random.between(0, 6.28);
  const period = random.between(1.6, 3.2);
  const at = (x: number): number => bendM * Math.sin((2 * Math.PI * x) / period + phase);
  for (let i = 0; i < n; i++) {
    const x = fromM + i * stepM;
    const y = acrossM + x * Math.tan(turnRad) + at(x) - at(0);
    across[i] = y;
    ground[i] = Math.max(
      soil.heightM(x, y, 0.006),
      soil.heightM(x, y + halfWidthM * 0.7, 0.006),
      soil.heightM(x, y - halfWidthM * 0.7, 0.006),
    );
  }
  const height = Float64Array.from(ground, (h) => h + 0.0015);
  for (let pass = 0; pass < 160; pass++) {
    for (let i = 1; i + 1 < n; i++) {
      const taut = ((height[i - 1] as number) + (height[i + 1] as number)) / 2 - 0.0000035;
      height[i] = Math.max(taut, (ground[i] as number) + 0.0015 - 0.003);
    }
  }
  const reading = new Float64Array(n);
  for (let i = 1; i < n; i++) {
    const dy = (across[i] as number) - (across[i - 1] as number);
    const dz = (height[i] as number) - (height[i - 1] as number);
    reading[i] = (reading[i - 1] as number) + Math.hypot(stepM, dy, dz);
  }
  const zeroAt = Math.max(0, Math.min(n - 1, -fromM / stepM));
  const zero = interpolate(reading, zeroAt) + (-fromM / stepM - zeroAt) * stepM;
  for (let i = 0; i < n; i++) reading[i] = (reading[i] as number) - zero;
  return { fromM, toM: fromM + (n - 1) * stepM, stepM, across, height, reading };
}

export function interpolate(values: Float64Array, at: number): number {
  const i = Math.max(0, Math.min(values.length - 2, Math.floor(at)));
  return (values[i] as number) + ((values[i + 1] as number) - (values[i] as number)) * (at - i);
}

/** Along position at which the ribbon shows this reading. */
export function alongOfReading(ribbon: Ribbon, readingM: number): number {
  let low = 0;
  let high = ribbon.reading.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((ribbon.reading[middle] as number) <= readingM) low = middle;
    else high = middle;
  }
  const a = ribbon.reading[low] as number;
  const b = ribbon.reading[high] as number;
  return ribbon.fromM + (low + (readingM - a) / Math.max(1e-9, b - a)) * ribbon.stepM;
}

export function ribbonPoint(ribbon: Ribbon, alongM: number): [number, number, number] {
  const at = (alongM - ribbon.fromM) / ribbon.stepM;
  return [alongM, interpolate(ribbon.across, at), interpolate(ribbon.height, at)];
}
