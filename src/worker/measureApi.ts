import type { CountResult } from '../core/count/countResult.ts';
import type { PreparedPhoto } from '../core/count/preparedPhoto.ts';
import type { Outcome } from '../core/faults/outcome.ts';
import type { PlantFindings } from '../core/plants/detection.ts';
import type { AnalysisRequest } from './analysisApi.ts';

/** What the thread that takes pixels apart is asked: one photo, once. */
export type MeasureRequest = Pick<AnalysisRequest, 'photo' | 'file' | 'options'>;

/** Before its photo it may be asked to practise. */
export type MeasureOrder = MeasureRequest | { readonly practise: true };

/** A photo up to what colour tells of it; the strip's pixels are handed over. */
export interface ByColour {
  readonly ready: PreparedPhoto;
  readonly colour: PlantFindings;
  /** When colour was done, milliseconds of the clock that the photo was prepared with. */
  readonly doneMs: number;
}

/** A quick number to be shown, where there is one; then the whole answer, or why not. Or that practice is over. */
export type MeasureReply =
  | { readonly quick: CountResult }
  | { readonly done: Outcome<ByColour> }
  | { readonly practised: true };
