import type { Source } from '../sources/source.ts';
import { own } from '../sources/source.ts';
import type { Cause, CauseSign } from './cause.ts';
import { LIVING_CAUSES } from './livingCauses.ts';
import { MANAGEMENT_CAUSES } from './managementCauses.ts';
import type { SignId, SignKind } from './signs.ts';
import { SIGNS } from './signs.ts';
import { SOIL_AND_WEATHER_CAUSES } from './soilAndWeatherCauses.ts';

/** Every cause in the differential diagnosis of a poor stand. */
export const CAUSES: readonly Cause[] = [...LIVING_CAUSES, ...SOIL_AND_WEATHER_CAUSES, ...MANAGEMENT_CAUSES];

/** What was looked for: seen, or looked for and not there. Signs not listed were not looked for. */
export interface ObservedSigns {
  readonly seen: readonly SignId[];
  readonly notSeen: readonly SignId[];
}

export interface RankedCause {
  readonly cause: Cause;
  /** Share of belief among the listed causes; an ordering with a size, never a measured probability. */
  readonly share: number;
  readonly speaksFor: readonly SignId[];
  readonly speaksAgainst: readonly SignId[];
}

export interface Diagnosis {
  readonly ranked: readonly RankedCause[];
  /** The unseen sign whose answer would settle most; null when nothing is left to check. */
  readonly nextSign: { readonly sign: SignId; readonly text: string } | null;
  readonly source: Source;
}

const CHANCE_IF_CAUSE = { telling: 0.8, usual: 0.6, fits: 0.4 } as const;
/** Chance of meeting the sign when the cause is another: proof is rare, patterns and history are common. */
const CHANCE_ANYWAY: Readonly<Record<SignKind, number>> = { plant: 0.05, pattern: 0.15, history: 0.2 };

const WEIGHTS_SOURCE = own('signs and patterns are published, their weights are not: telling 0.8, usual 0.6, fits 0.4');

/**
 * Ranks the causes by the signs seen and not seen, each sign weighed once (naive Bayes over equal priors). A sign
 * known only from memory counts half. With no sign at all the answer is empty: nothing is likelier than anything.
 */
export function rankCauses(observed: ObservedSigns): Diagnosis {
  const looked = new Set<SignId>([...observed.seen, ...observed.notSeen]);
  if (looked.size === 0) return { ranked: [], nextSign: null, source: WEIGHTS_SOURCE };
  const shares = beliefs(observed.seen, observed.notSeen);
  const ranked = CAUSES.map((cause, i) => ({
    cause,
    share: shares[i]!,
    speaksFor: observed.seen.filter((sign) => cause.signs.some((s) => s.sign === sign)),
    speaksAgainst: observed.notSeen.filter((sign) => cause.signs.some((s) => s.sign === sign)),
  })).sort((a, b) => b.share - a.share || (a.cause.id < b.cause.id ? -1 : 1));
  const next = nextSign(shares, looked);
  return { ranked, nextSign: next === null ? null : { sign: next, text: SIGNS[next].text }, source: WEIGHTS_SOURCE };
}

function chance(cause: Cause, sign: SignId): number {
  const anyway = CHANCE_ANYWAY[SIGNS[sign].kind];
  const listed: CauseSign | undefined = cause.signs.find((s) => s.sign === sign);
  if (listed === undefined) return anyway;
  const whole = CHANCE_IF_CAUSE[listed.strength];
  return listed.fromMemory === true ? (whole + anyway) / 2 : whole;
}

function beliefs(seen: readonly SignId[], notSeen: readonly SignId[]): number[] {
  const logs = CAUSES.map((cause) => {
    const forIt = seen.reduce((sum, sign) => sum + Math.log(chance(cause, sign)), 0);
    return notSeen.reduce((sum, sign) => sum + Math.log(1 - chance(cause, sign)), forIt);
  });
  const top = Math.max(...logs);
  const weights = logs.map((log) => Math.exp(log - top));
  const total = weights.reduce((sum, w) => sum + w, 0);
  return weights.map((w) => w / total);
}

/** The unseen sign with the largest expected fall in entropy; ties go to the sign first in the checklist. */
function nextSign(shares: readonly number[], looked: ReadonlySet<SignId>): SignId | null {
  let best: { sign: SignId; gain: number } | null = null;
  for (const sign of Object.keys(SIGNS) as SignId[]) {
    if (looked.has(sign)) continue;
    const chances = CAUSES.map((cause) => chance(cause, sign));
    const yes = shares.map((share, i) => share * chances[i]!);
    const no = shares.map((share, i) => share * (1 - chances[i]!));
    const gain = entropy(shares) - entropy(yes) - entropy(no);
    if (best === null || gain > best.gain + 1e-12) best = { sign, gain };
  }
  return best?.sign ?? null;
}

/** Entropy in nats of weights that need not sum to one, times their sum. */
function entropy(weights: readonly number[]): number {
  const total = weights.reduce((sum, w) => sum + w, 0);
  return weights.reduce((sum, w) => (w > 0 ? sum - w * Math.log(w / total) : sum), 0);
}
