import type { CountOptions } from '../core/count/countOptions.ts';
import type { CountResult } from '../core/count/countResult.ts';
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

/** A count with what a head can learn from; null where the network did not answer or no scale is known. */
export interface Measured {
  readonly result: CountResult;
  readonly stock: StockMarks | null;
}

/**
 * What comes back: a quick number by colour at half the size, to be shown and never kept; with a network the count by
 * colour alone, kept only where the thread dies later; then the last one, or why not.
 */
export interface AnalysisReply {
  readonly id: number;
  readonly stage: 'quick' | 'first' | 'last';
  readonly outcome: Outcome<Measured>;
}
