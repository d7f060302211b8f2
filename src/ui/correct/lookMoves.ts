import type { CountResult } from '../../core/count/countResult.ts';
import type { Point } from '../../core/geometry/point.ts';
import { FARTHEST_PX_PER_M, type Look, NEAREST_PX_PER_M, type PictureMap } from './camera.ts';
import type { LookStore } from './lookStore.ts';

const PAN_STEP_PX = 60;
const ENDS_SHOWN_M = 0.3;
/** Without a scale a photo is taken to show so much of a row. */
const PRETENDED_M = 3;
/** Bars above and below leave so much of the screen to one view, or a little more. */
const VIEW_SHARE = 0.68;

/** Where the keys make the views look. */
export interface LookMoves {
  readonly pan: (by: Point) => void;
  readonly zoom: (factor: number) => void;
  /** The whole stretch, end to end. */
  readonly whole: () => void;
  readonly at: (place: Point) => void;
}

export function lookMoves(look: LookStore, photo: PictureMap | null, shown: CountResult): LookMoves {
  const { widthPx, heightPx } = shown.photo;
  return {
    pan: ([right, down]) => {
      if (photo === null) return;
      const now = look.get();
      const step = (PAN_STEP_PX * photo.pxPerM([now.xPx, now.yPx])) / now.screenPxPerM;
      const inside = (value: number, size: number) => Math.min(size - 1, Math.max(0, value));
      look.glide({
        ...now,
        xPx: inside(now.xPx + right * step, widthPx),
        yPx: inside(now.yPx + down * step, heightPx),
      });
    },
    zoom: (factor) => {
      const now = look.get();
      const screenPxPerM = Math.min(NEAREST_PX_PER_M, Math.max(FARTHEST_PX_PER_M, now.screenPxPerM * factor));
      look.glide({ ...now, screenPxPerM });
    },
    whole: () => look.glide(wholeLook(shown)),
    at: ([xPx, yPx]) => look.glide({ ...look.get(), xPx, yPx }),
  };
}

/** The whole stretch, end to end; without a scale the whole photo. */
export function wholeLook({ photo: { widthPx, heightPx }, reference, stretch }: CountResult): Look {
  const ends = reference.endsPx ?? [
    [0, heightPx / 2],
    [widthPx, heightPx / 2],
  ];
  const tooHigh = Math.max(1, (innerWidth * heightPx) / widthPx / (innerHeight * VIEW_SHARE));
  const lengthM = stretch === null ? PRETENDED_M * tooHigh : stretch.lengthM + ENDS_SHOWN_M;
  return {
    xPx: (ends[0][0] + ends[1][0]) / 2,
    yPx: (ends[0][1] + ends[1][1]) / 2,
    screenPxPerM: Math.max(FARTHEST_PX_PER_M, innerWidth / lengthM),
  };
}
