import type { IsoDay } from '../outlook/calendar.ts';
import type { Source } from '../sources/source.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from '../yield/band.ts';
import type { ReplantBalance } from './replantEconomics.ts';
import type { ReplantRisk } from './replantRisk.ts';

/** A stand, plants per square metre. A side that cannot be told is null. */
export interface StandBand {
  readonly perM2: number;
  /** The 90 % interval as it is shown. */
  readonly low: number | null;
  readonly high: number | null;
  /** One-sided 95 % bounds by which the stopping rule calls it above or below the floor. */
  readonly lowerBound: number | null;
  readonly upperBound: number | null;
}

export interface MoneyFacts {
  readonly replantDay: IsoDay;
  readonly balance: ReplantBalance;
  readonly risk: ReplantRisk;
  /** Even stand at which both come out the same, plants per square metre; null when keeping always wins. */
  readonly breakEvenPerM2: number | null;
  readonly breakEvenDay: IsoDay | null;
  /** Yield that replanting must add to pay for itself, and the price from which its expected gain would; null without a gain. */
  readonly mustAdd: { readonly yieldPerArea: number; readonly price: number | null };
}

export interface ZoneFacts {
  readonly name: string;
  readonly areaM2: number;
  readonly stand: StandBand | null;
  readonly money: MoneyFacts | null;
}

/** Something that forbids judging yet. */
export interface Hold {
  readonly until: IsoDay;
  readonly says: string;
  readonly source: Source;
}

export interface OutlookFacts {
  readonly stillComing: boolean;
  readonly finalPerM2: { readonly middle: number; readonly low: number; readonly high: number };
  readonly recountBy: IsoDay;
  readonly says: string;
  readonly source: Source;
}

/** All that the decision rests on. Densities are viable plants per square metre. */
export interface DecisionFacts {
  readonly visitOn: IsoDay;
  /** Null when nothing usable was counted. */
  readonly stand: StandBand | null;
  readonly spots: number;
  readonly targetPerM2: number;
  readonly habit: GrowthHabit;
  /** By the stopping rule: 0 when more spots would not help. */
  readonly moreSpots: number;
  /** The spots place the stand, but the judging of hurt plants does not: look at them again. */
  readonly doubt: Hold | null;
  readonly holds: readonly Hold[];
  readonly outlook: OutlookFacts | null;
  readonly yieldShare: Band | null;
  readonly money: MoneyFacts | null;
  readonly lastReplant: { readonly day: IsoDay; readonly source: Source };
  readonly zones: readonly ZoneFacts[];
  /** Further facts worth a line: damage, published rules, uniformity. Strongest first. */
  readonly remarks: readonly { readonly says: string; readonly source: Source }[];
}

/** How numbers are said: the document's own units. */
export interface Phrasing {
  readonly plants: (perM2: number) => string;
  /** Both numbers, the unit once. */
  readonly plantsRange: (lowPerM2: number, highPerM2: number) => string;
  readonly money: (perM2: number) => string;
  readonly yields: (kgPerM2: number) => string;
  readonly area: (m2: number) => string;
  readonly day: (day: IsoDay) => string;
}
