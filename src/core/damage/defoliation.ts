import type { Source } from '../sources/source.ts';
import { published, publishedWith } from '../sources/source.ts';

export interface DefoliationAdvice {
  /** Share of full yield lost, as a band; null when nothing published answers. */
  readonly loss: { readonly low: number; readonly high: number } | null;
  readonly says: string;
  readonly source: Source;
}

/**
 * What leaf loss before flowering costs. No numeric dry-bean chart was read, so the answer leans on soybean and says
 * so; past half the nodes cut, or from flowering on, it cannot be told here.
 */
export function defoliationLoss(leafShareLost: number, flowering: boolean): DefoliationAdvice {
  if (flowering) {
    return {
      loss: null,
      says: 'losses of dry beans rise from first flower on; the chart itself was not readable',
      source: published('weinlaeder2007'),
    };
  }
  if (leafShareLost <= 0)
    return { loss: { low: 0, high: 0 }, says: 'no leaf lost', source: published('weinlaeder2007') };
  if (leafShareLost <= 0.5) {
    return {
      loss: { low: 0, high: 0.1 },
      says: 'soybean with up to half its nodes cut before flowering loses 10 % at most; dry beans recover less',
      source: publishedWith('soybean, the closest crop', 'kansasHail'),
    };
  }
  return {
    loss: null,
    says: 'more than half the leaf area gone: no published number for dry beans was read',
    source: published('weinlaeder2007'),
  };
}

/** Soybean stand cut from 120,000 to 60,000 plants per acre by hail: share of yield lost by stage at the event. */
export const SOYBEAN_HALVED_BY_HAIL = {
  beforeFlowering: { lossShare: 0.14, stages: 'VC to R1' },
  flowering: { lossShare: 0.35, stages: 'R2 to R3.5' },
  source: published('unlHail2023'),
} as const;
