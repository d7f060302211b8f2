import type { PlantFindings, PlantSearch } from '../plants/detection.ts';
import type { FoundReference } from '../reference/reference.ts';
import type { Strip } from '../straighten/strip.ts';
import type { CountResult } from './countResult.ts';

/** What the count needs from where it runs. */
export interface CountTools {
  readonly detector: { readonly name: string; readonly version: string };
  readonly findPlants: (strip: Strip, search: PlantSearch) => PlantFindings | Promise<PlantFindings>;
  /** Milliseconds of any steady clock. */
  readonly nowMs: () => number;
}

/** The answer with what it was made from: for pictures, corrections and re-analysis. */
export interface PhotoAnalysis {
  readonly result: CountResult;
  readonly strip: Strip | null;
  readonly findings: PlantFindings;
  readonly found: FoundReference | null;
}
