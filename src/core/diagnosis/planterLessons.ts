import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, own, published } from '../sources/source.ts';

/** What the stand says about the planter; null where it was not measured. Shares are 0 to 1. */
export interface PlanterEvidence {
  readonly missShare: number | null;
  readonly multiplesShare: number | null;
  /** SD of single spacings over the theoretical spacing. */
  readonly precision: number | null;
  /** Stand over seeds dropped. */
  readonly establishment: number | null;
  readonly depthM: number | null;
  /** Row units differ among themselves more than rows by chance do. */
  readonly rowUnitsDiffer: boolean | null;
}

export interface PlanterLesson {
  readonly says: string;
  readonly source: Source;
}

const DEPTH = { shallowM: 0.03175, deepM: 0.0635, source: published('ontarioBeans', 'manitobaBeans') } as const;
const FAIR_ESTABLISHMENT = { least: 0.85, source: published('northarvest2007', 'saskPulse') } as const;
const MANY = {
  share: 0.1,
  source: own('no dry-bean limit for skips or doubles was read; one in ten is worth a look'),
} as const;
const PRECISION_CEILING = {
  value: 0.29,
  source: own('spacings spread evenly over the single class give 28.9 %, so more is no spacing at all'),
} as const;

/** Lessons for next year, strongest first; empty when nothing was measured or nothing stands out. */
export function planterLessons(evidence: PlanterEvidence): readonly PlanterLesson[] {
  const lessons: PlanterLesson[] = [];
  const percent = (share: number) => `${Math.round(share * 100)} %`;
  if (evidence.missShare !== null && evidence.missShare > MANY.share) {
    lessons.push({
      says: `${percent(evidence.missShare)} skips: seed too big for the cup or plate, or driven too fast (or seed that died; dig in the gap)`,
      source: published('isuSkipsDoubles'),
    });
  }
  if (evidence.multiplesShare !== null && evidence.multiplesShare > MANY.share) {
    lessons.push({
      says: `${percent(evidence.multiplesShare)} doubles: cup too large or vacuum too high`,
      source: published('isuSkipsDoubles'),
    });
  }
  if (evidence.rowUnitsDiffer === true) {
    lessons.push({ says: 'row units differ: test each one on the stand and in the yard', source: COMMON_PRACTICE });
  }
  if (evidence.precision !== null && evidence.precision > PRECISION_CEILING.value) {
    lessons.push({
      says: `precision ${percent(evidence.precision)}, past the ${percent(PRECISION_CEILING.value)} ceiling: no spacing is held`,
      source: PRECISION_CEILING.source,
    });
  }
  if (evidence.depthM !== null && (evidence.depthM < DEPTH.shallowM || evidence.depthM > DEPTH.deepM)) {
    lessons.push({
      says: `planted ${evidence.depthM < DEPTH.shallowM ? 'shallower' : 'deeper'} than the usual 1.25 to 2.5 in`,
      source: DEPTH.source,
    });
  }
  if (evidence.establishment !== null && evidence.establishment < FAIR_ESTABLISHMENT.least) {
    lessons.push({
      says: `${percent(evidence.establishment)} of the seed made a plant; 85 to 97 % is usual`,
      source: FAIR_ESTABLISHMENT.source,
    });
  }
  return lessons;
}
