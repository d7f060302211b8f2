import type { Source } from '../sources/source.ts';
import { published } from '../sources/source.ts';

/**
 * How the leaves are counted. Two published conventions disagree by one, so a stage always names its own.
 * `trifoliolate` (revised NDSU guide): V1 is the first trifoliolate unfolded. `node` (older text): V1 is the
 * unifoliolate node, which the revised guide calls VC.
 */
export type StageConvention = 'trifoliolate' | 'node';

export interface VegetativeStage {
  readonly code: 'VE' | 'VC' | 'V';
  /** Number of counted leaves or nodes with V, 0 with VE and VC. */
  readonly number: number;
  readonly convention: StageConvention;
}

export const STAGE_SOURCES: Readonly<Record<StageConvention, Source>> = {
  trifoliolate: published('ndsuStages2020'),
  node: published('northarvest2006'),
};

/** Reads `VE`, `VC`, `V3`; null for anything else, flowering stages among them. */
export function parseVegetativeStage(text: string, convention: StageConvention): VegetativeStage | null {
  const code = text.trim().toUpperCase();
  if (code === 'VE' || code === 'VC') return { code, number: 0, convention };
  const found = /^V(\d{1,2})$/.exec(code);
  if (found === null || Number(found[1]) < 1) return null;
  return { code: 'V', number: Number(found[1]), convention };
}

/** The same plant under the other convention: node V1 is VC, node V3 is trifoliolate V2. */
export function stageUnder(stage: VegetativeStage, convention: StageConvention): VegetativeStage {
  if (stage.convention === convention || stage.code === 'VE') return { ...stage, convention };
  if (convention === 'trifoliolate') {
    if (stage.code === 'VC' || stage.number === 1) return { code: 'VC', number: 0, convention };
    return { code: 'V', number: stage.number - 1, convention };
  }
  return { code: 'V', number: stage.code === 'VC' ? 1 : stage.number + 1, convention };
}

/** `V2 (trifoliolates counted)`, never a bare V number. */
export function formatStage(stage: VegetativeStage): string {
  if (stage.code !== 'V') return stage.code;
  const counted = stage.convention === 'trifoliolate' ? 'trifoliolates counted' : 'nodes counted, unifoliolate is V1';
  return `V${stage.number} (${counted})`;
}
