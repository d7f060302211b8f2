import type { IsoDay } from '../outlook/calendar.ts';
import { addDays } from '../outlook/calendar.ts';
import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, published } from '../sources/source.ts';

export type Hazard = 'wind' | 'hail' | 'frost' | 'sand' | 'feeding' | 'flooding' | 'herbicide' | 'crust' | 'other';

export interface WaitRule {
  readonly leastDays: number;
  readonly mostDays: number;
  readonly source: Source;
}

const GUIDES: WaitRule = {
  leastDays: 3,
  mostDays: 5,
  source: published('sdsuReplanting', 'minnesotaSoybean', 'manitobaBeans'),
};

/** Days of decent growing weather to wait before hurt plants are judged. */
export const WAIT_RULES: Readonly<Record<Hazard, WaitRule>> = {
  hail: GUIDES,
  frost: GUIDES,
  wind: { leastDays: 2, mostDays: 3, source: COMMON_PRACTICE },
  sand: { leastDays: 2, mostDays: 3, source: COMMON_PRACTICE },
  feeding: { leastDays: 0, mostDays: 0, source: COMMON_PRACTICE },
  flooding: { leastDays: 3, mostDays: 5, source: COMMON_PRACTICE },
  herbicide: { leastDays: 5, mostDays: 7, source: COMMON_PRACTICE },
  crust: { leastDays: 0, mostDays: 0, source: COMMON_PRACTICE },
  other: { leastDays: 3, mostDays: 5, source: COMMON_PRACTICE },
};

export interface Judgeable {
  readonly ready: boolean;
  /** From this day on the plants can be judged at all. */
  readonly from: IsoDay;
  /** By this day they surely can. */
  readonly by: IsoDay;
  readonly rule: WaitRule;
}

/** Whether plants hurt on `eventDay` can be judged on `visitDay`. A visit before the event is the caller's error. */
export function canJudgeOn(hazard: Hazard, eventDay: IsoDay, visitDay: IsoDay): Judgeable {
  const rule = WAIT_RULES[hazard];
  const from = addDays(eventDay, rule.leastDays);
  return { ready: visitDay >= from, from, by: addDays(eventDay, rule.mostDays), rule };
}
