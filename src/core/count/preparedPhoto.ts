import type { PlantSearch } from '../plants/detection.ts';
import type { FoundReference, NoReference } from '../reference/reference.ts';
import type { Strip } from '../straighten/strip.ts';
import type { StretchChoice } from './chooseStretch.ts';
import type { CountOptions } from './countOptions.ts';
import type { PhotoWithoutPixels } from './photo.ts';

/**
 * A photo up to where plants are looked for: its soil plane and its straightened row. Holds no pixels of the photo, so
 * these can be let go, and serves as many searches as wanted.
 */
export interface PreparedPhoto {
  readonly photo: PhotoWithoutPixels;
  readonly options: CountOptions;
  /** Photo pixels per pixel of the raster that the reference was found in. */
  readonly photoPxPerRasterPx: number;
  /** With a scale: the reference and the stretch to count. Without: why there is none. */
  readonly ground: { readonly found: FoundReference; readonly stretch: StretchChoice } | { readonly none: NoReference };
  /** The straightened row; without a scale the whole picture at a guessed one, from which no length is made. */
  readonly strip: Strip;
  readonly search: PlantSearch;
  /** When it began, and what it took, milliseconds. */
  readonly startMs: number;
  readonly doneMs: number;
  readonly timingsMs: Readonly<Record<string, number>>;
}
