import type { Strip } from '../straighten/strip.ts';
import type { DetectorCard } from './detectorCard.ts';
import type { ModelTensor } from './modelRunner.ts';

/** The network's input, and how to get from the pixels of its answers to the strip's: strip = answer * scale + shift. */
export interface StripTensor {
  readonly tensor: ModelTensor;
  readonly scale: number;
  readonly shift: number;
  /** The part of the input that shows the strip, in pixels of the input. */
  readonly widthPx: number;
  readonly heightPx: number;
}

const CHANNELS = 6;
const VIEW_LIMIT = 1.5;

/**
 * Resamples a strip to the network's scale and lays it out as [1, 6, height, width]: red, green and blue (gamma-coded
 * 0 to 1, shifted by -0.45 and multiplied by 4), the view along and across (half of how far a height displaces a point,
 * per unit of height, held to +-1.5; zero when the camera is not known), and 1 where the strip has content. Sides are
 * padded to the card's multiple. Shrinking averages areas; growing interpolates.
 */
export function stripToTensor(
  strip: Strip,
  card: Pick<DetectorCard, 'inputMmPerPx' | 'mmPerPx' | 'sideMultiple'>,
): StripTensor {
  const scale = card.inputMmPerPx / strip.mmPerPx;
  const shift = (scale - 1) / 2;
  const widthPx = Math.max(1, Math.round(strip.raster.widthPx / scale));
  const heightPx = Math.max(1, Math.round(strip.raster.heightPx / scale));
  const pad = (side: number) => Math.ceil(side / card.sideMultiple) * card.sideMultiple;
  const w = pad(widthPx);
  const h = pad(heightPx);
  const plane = w * h;
  const data = new Float32Array(CHANNELS * plane);
  const colour = resample(strip, widthPx, heightPx, scale);
  const { camera, mmPerPx, alongAtLeftM, acrossAtTopM } = strip;
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      const from = 4 * (y * widthPx + x);
      if (colour[from + 3]! < 0.5) continue;
      const at = y * w + x;
      for (let c = 0; c < 3; c++) data[c * plane + at] = (colour[from + c]! / 255 - 0.45) * 4;
      if (camera !== null) {
        const alongM = alongAtLeftM + ((x * scale + shift) * mmPerPx) / 1000;
        const acrossM = acrossAtTopM - ((y * scale + shift) * mmPerPx) / 1000;
        data[3 * plane + at] = held((0.5 * (alongM - camera.alongM)) / camera.heightM);
        data[4 * plane + at] = held((-0.5 * (acrossM - camera.acrossM)) / camera.heightM);
      }
      data[5 * plane + at] = 1;
    }
  }
  const answer = card.mmPerPx / strip.mmPerPx;
  return {
    tensor: { data, dims: [1, CHANNELS, h, w] },
    scale: answer,
    shift: (answer - 1) / 2,
    widthPx,
    heightPx,
  };
}

function held(v: number): number {
  return v < -VIEW_LIMIT ? -VIEW_LIMIT : v > VIEW_LIMIT ? VIEW_LIMIT : v;
}

/** RGB means of the covered part and the covered share (0 to 1) of every target pixel. */
function resample(strip: Strip, widthPx: number, heightPx: number, scale: number): Float32Array {
  const xs = taps(widthPx, strip.raster.widthPx, scale);
  const ys = taps(heightPx, strip.raster.heightPx, scale);
  const { data, widthPx: sourceWidth } = strip.raster;
  const out = new Float32Array(widthPx * heightPx * 4);
  for (let y = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++) {
      let r = 0;
      let g = 0;
      let b = 0;
      let covered = 0;
      let all = 0;
      for (let i = ys.first[y]!; i < ys.first[y + 1]!; i++) {
        for (let j = xs.first[x]!; j < xs.first[x + 1]!; j++) {
          const weight = ys.weight[i]! * xs.weight[j]!;
          const from = 4 * (ys.index[i]! * sourceWidth + xs.index[j]!);
          all += weight;
          if (data[from + 3]! < 128) continue;
          covered += weight;
          r += weight * data[from]!;
          g += weight * data[from + 1]!;
          b += weight * data[from + 2]!;
        }
      }
      const to = 4 * (y * widthPx + x);
      if (covered > 0) {
        out[to] = r / covered;
        out[to + 1] = g / covered;
        out[to + 2] = b / covered;
        out[to + 3] = covered / all;
      }
    }
  }
  return out;
}

interface Taps {
  readonly first: Int32Array;
  readonly index: number[];
  readonly weight: number[];
}

/** Source pixels and weights of each target pixel along one side: a triangle as wide as the larger of the two pixels. */
function taps(target: number, source: number, scale: number): Taps {
  const reach = Math.max(1, scale);
  const first = new Int32Array(target + 1);
  const index: number[] = [];
  const weight: number[] = [];
  for (let t = 0; t < target; t++) {
    first[t] = index.length;
    const centre = t * scale + (scale - 1) / 2;
    for (let s = Math.ceil(centre - reach); s <= Math.floor(centre + reach); s++) {
      const w = 1 - Math.abs(s - centre) / reach;
      if (w <= 1e-6) continue;
      index.push(Math.min(source - 1, Math.max(0, s)));
      weight.push(w);
    }
  }
  first[target] = index.length;
  return { first, index, weight };
}
