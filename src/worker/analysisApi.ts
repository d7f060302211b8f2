import type { CountOptions } from '../core/count/countOptions.ts';
import type { PhotoAnalysis } from '../core/count/photoAnalysis.ts';
import type { Outcome } from '../core/faults/outcome.ts';

/** What a page may ask of the thread that measures. */
export interface AnalysisRequest {
  readonly id: number;
  readonly photo: Blob;
  readonly file: string;
  readonly options: CountOptions;
  /** `none` for colour alone, `auto` for the best detector there is. */
  readonly model: string;
}

/** What comes back: the answer with its straightened strip (pixels handed over, not copied), or why not. */
export interface AnalysisReply {
  readonly id: number;
  readonly outcome: Outcome<PhotoAnalysis>;
}
