import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, own, published, publishedWith } from '../sources/source.ts';

export interface Caution {
  readonly id: string;
  readonly says: string;
  readonly source: Source;
}

/** What bears on which cautions are shown. Unknown (null) shows the caution: silence must not look like safety. */
export interface CautionContext {
  readonly verdict: 'keep' | 'wait' | 'cost replant' | 'too few spots';
  readonly insured: boolean | null;
  /** Some damage was recorded. */
  readonly damaged: boolean;
  /** Days by which a replanting would pass the last day of full cover; null when that day was not entered. */
  readonly daysPastInsurance: number | null;
  readonly sprayed: boolean | null;
  readonly reentryHoursLeft: number | null;
}

const AGRONOMIST: Caution = {
  id: 'agronomist first',
  says: 'Your local agronomist, the labels and local rules go before this page.',
  source: own('numbers from elsewhere do not know this field'),
};

/** The cautions that go with a verdict, most urgent first. */
export function cautions(context: CautionContext): readonly Caution[] {
  const list: Caution[] = [];
  if (context.reentryHoursLeft !== null && context.reentryHoursLeft > 0) {
    list.push({
      id: 're-entry',
      says: `Stay out: the re-entry interval still runs for ${Math.ceil(context.reentryHoursLeft)} h. The label decides.`,
      source: COMMON_PRACTICE,
    });
  } else if (context.sprayed !== false) {
    list.push({
      id: 're-entry',
      says: 'Before walking a sprayed field check the re-entry interval on the label.',
      source: COMMON_PRACTICE,
    });
  }
  if (context.verdict !== 'cost replant' && context.damaged && context.insured !== false) {
    list.push({
      id: 'insurer',
      says: 'Insured stand: tell the insurer of the damage now, and change nothing before the adjuster has seen it.',
      source: COMMON_PRACTICE,
    });
  }
  if (context.verdict === 'cost replant') {
    if (context.insured !== false) {
      list.push({
        id: 'adjuster',
        says: `Insured stand: do not destroy it before the adjuster has released it. ${lateCover(context.daysPastInsurance)}`,
        source: publishedWith('1 % of cover a day after the final date, Michigan 2017', 'michiganInsurance2017'),
      });
    }
    list.push(
      {
        id: 'label',
        says: 'Herbicide already down limits what may follow: read the label before choosing what to replant.',
        source: COMMON_PRACTICE,
      },
      {
        id: 'old stand',
        says: 'Kill the old stand before replanting: two ages of beans ripen unevenly.',
        source: published('ontarioBeans'),
      },
    );
  }
  return [...list, AGRONOMIST];
}

function lateCover(days: number | null): string {
  if (days === null) return 'Late planting can cut cover.';
  return days === 0
    ? 'The replanting falls within full cover.'
    : `The replanting falls ${days} days past full cover: about ${days} % less, ask the insurer.`;
}
