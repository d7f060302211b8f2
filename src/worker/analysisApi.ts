import type { CountOptions } from '../core/count/countOptions.ts';
import type { PhotoAnalysis } from '../core/count/photoAnalysis.ts';
import type { Outcome } from '../core/faults/outcome.ts';
import type { Head } from '../core/learning/head.ts';
import type { StockMarks } from '../core/learning/stockMarks.ts';

/** What a page may ask of the thread that measures. */
export interface AnalysisRequest {
  readonly id: number;
  readonly photo: Blob;
  readonly file: string;
  readonly options: CountOptions;
  /** `none` for colour alone, `auto` for the best detector there is. */
  readonly model: string;
  /** What was learned from this farm's corrections; null: the stock detector. */
  readonly head: Head | null;
}

/** An analysis with what a head can learn from; null where the network did not answer or no scale is known. */
export interface Measured extends PhotoAnalysis {
  readonly stock: StockMarks | null;
}

/**
 * What comes back: with a network a first answer by colour alone, without its strip and never to be kept; then the last
 * one with its straightened strip (pixels handed over, not copied), or why there is none.
 */
export interface AnalysisReply {
  readonly id: number;
  readonly stage: 'first' | 'last';
  readonly outcome: Outcome<Measured>;
}
