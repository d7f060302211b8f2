import type { ReplantCase } from './replantEconomics.ts';
import { balanceAt, replantYieldShare } from './replantEconomics.ts';

export interface ReplantRisk {
  /** Share of the draws in which replanting paid. */
  readonly probabilityPays: number;
  readonly gainPerArea: { readonly low: number; readonly middle: number; readonly high: number };
  readonly level: 0.9;
  readonly draws: number;
  readonly method: string;
}

export const RISK_DRAWS = 4000;

/**
 * Probability that replanting pays: seeded Monte Carlo over the bands of keeping and replanting, each drawn from a
 * triangle with its peak in the middle, since a band gives edges and no shape. `random` returns numbers in [0, 1).
 */
export function replantRisk(of: ReplantCase, random: () => number, draws: number = RISK_DRAWS): ReplantRisk {
  const replant = replantYieldShare(of, of.replantDay);
  const gains: number[] = [];
  for (let i = 0; i < draws; i++) {
    const keepShare = triangular(of.keepYieldShare.low, of.keepYieldShare.high, random);
    const replantShare = triangular(replant.low, replant.high, random);
    gains.push(balanceAt(keepShare, replantShare, of).gainPerArea);
  }
  gains.sort((a, b) => a - b);
  const at = (share: number) => gains[Math.min(draws - 1, Math.floor(share * draws))]!;
  return {
    probabilityPays: gains.filter((gain) => gain > 0).length / draws,
    gainPerArea: { low: at(0.05), middle: at(0.5), high: at(0.95) },
    level: 0.9,
    draws,
    method: 'seeded Monte Carlo, triangular over each band',
  };
}

/** Symmetric triangle between two edges: the mean of two uniform draws. */
function triangular(low: number, high: number, random: () => number): number {
  return low + ((high - low) * (random() + random())) / 2;
}
