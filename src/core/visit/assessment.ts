import type { ThresholdReading } from '../damage/actionThresholds.ts';
import type { DefoliationAdvice } from '../damage/defoliation.ts';
import type { FrostReading } from '../damage/frostRisk.ts';
import type { VegetativeStage } from '../damage/growthStage.ts';
import type { ViableShare } from '../damage/viableShare.ts';
import type { Hazard, Judgeable } from '../damage/waitRule.ts';
import type { Caution } from '../decision/cautions.ts';
import type { MoneyFacts } from '../decision/decisionFacts.ts';
import type { StandRuleReading } from '../decision/standRules.ts';
import type { Decision } from '../decision/verdict.ts';
import type { PlanterLesson } from '../diagnosis/planterLessons.ts';
import type { Diagnosis } from '../diagnosis/rankCauses.ts';
import type { IsoDay } from '../outlook/calendar.ts';
import type { EmergenceOutlook } from '../outlook/emergenceOutlook.ts';
import type { Source } from '../sources/source.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { SeedNeeded } from '../targets/seedNeeded.ts';
import type { YieldPotential } from '../yield/yieldPotential.ts';
import type { PatternNumbers, PrecisionNumbers } from './assessPrecision.ts';

/** A density with its interval; sides that cannot be told are null. All per square metre. */
export interface StandNumbers {
  readonly perM2: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly level: number;
  /** One-sided 95 % bounds of the stopping rule; null before they can be told. */
  readonly lowerBound: number | null;
  readonly upperBound: number | null;
  readonly spots: number;
  readonly method: string;
}

export interface SpotNumbers {
  readonly id: string;
  readonly zone: string | null;
  /** Null when the spot could not be used; `why` says. */
  readonly perM2: number | null;
  /** The stretch's own interval from counting, apart from the field's. */
  readonly low: number | null;
  readonly high: number | null;
  readonly plants: number;
  readonly areaM2: number;
  readonly why: string | null;
  /** Flagged as unlike the others; never dropped. */
  readonly outlier: boolean;
}

export interface ZoneNumbers {
  readonly id: string;
  readonly name: string;
  readonly areaM2: number;
  readonly stand: StandNumbers | null;
  readonly viable: StandNumbers | null;
  readonly yieldPotential: YieldPotential | null;
  readonly money: MoneyFacts | null;
}

export interface DamageNumbers {
  readonly id: string;
  readonly hazard: Hazard;
  readonly happenedOn: IsoDay;
  readonly zone: string | null;
  readonly judgeable: Judgeable;
  readonly stage: VegetativeStage | null;
  readonly viable: ViableShare | null;
  readonly defoliation: DefoliationAdvice | null;
  readonly frost: FrostReading | null;
}

export interface EvennessNumbers {
  readonly spacings: number;
  readonly meanSpacingM: number | null;
  readonly spacingSdM: number | null;
  readonly spacingCv: number | null;
  readonly missShare: number | null;
  readonly multiplesShare: number | null;
  readonly precision: number | null;
  /** Share of the row measured for gaps that lies in gaps over the costly length. */
  readonly gapShare: number | null;
  readonly gapsCounted: number;
  readonly rowLengthForGapsM: number;
  readonly pattern: string | null;
}

export interface TargetNumbers {
  readonly perM2: number;
  readonly says: string;
  readonly sources: readonly Source[];
  readonly warnings: readonly string[];
}

/** One line of `--explain`. */
export interface Explained {
  readonly topic: string;
  readonly says: string;
  readonly source: Source;
}

/** Everything a visit says, with all its numbers. SI inside: plants per square metre, metres, money per square metre. */
export interface Assessment {
  readonly schema: 'rowledger/assessment@1';
  readonly visit: {
    readonly id: string;
    readonly farm: string;
    readonly field: string;
    readonly areaM2: number | null;
    readonly marketClass: string;
    readonly habit: GrowthHabit;
    readonly rowWidthM: number | null;
    readonly plantedOn: IsoDay;
    readonly visitedOn: IsoDay;
    readonly daysAfterPlanting: number;
    readonly units: 'imperial' | 'metric';
    readonly currency: string | null;
  };
  readonly impressions: readonly {
    readonly who: string;
    readonly at: string;
    readonly leaning: string;
    readonly words: string | null;
  }[];
  readonly spots: readonly SpotNumbers[];
  readonly stand: StandNumbers | null;
  /** The stand less what is dead or may die. */
  readonly viable: StandNumbers | null;
  /** How good the mean is; null before the spots show a spread. */
  readonly precision: PrecisionNumbers | null;
  /** How plants are spread over pieces of row of one length; null below five of them. */
  readonly pattern: PatternNumbers | null;
  readonly moreSpots: number;
  readonly stopping: readonly string[];
  readonly target: TargetNumbers;
  readonly floorPerM2: number;
  /** Seed that a new stand would take. */
  readonly seed: SeedNeeded;
  readonly establishment: number | null;
  readonly zones: readonly ZoneNumbers[];
  readonly evenness: EvennessNumbers | null;
  readonly damage: readonly DamageNumbers[];
  readonly outlook: EmergenceOutlook | null;
  readonly standRules: readonly StandRuleReading[];
  readonly yieldPotential: YieldPotential | null;
  readonly money: MoneyFacts | null;
  readonly decision: Decision;
  readonly cautions: readonly Caution[];
  readonly diagnosis: Diagnosis;
  readonly scouting: readonly ThresholdReading[];
  readonly lessons: readonly PlanterLesson[];
  readonly photos: readonly { readonly file: string; readonly sha256: string; readonly spot: string }[];
  readonly warnings: readonly string[];
  readonly explained: readonly Explained[];
}
