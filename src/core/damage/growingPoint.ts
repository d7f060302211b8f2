import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, published, publishedWith } from '../sources/source.ts';

/** What one hurt plant is, growing point first. */
export type GrowingPointState =
  /** The growing point is green and growing. */
  | 'growing'
  /** The tip is gone; buds in the axils (cotyledonary node included) live. */
  | 'buds alive'
  /** Cannot be told yet. */
  | 'doubtful'
  /** Dead, or cut or broken below the cotyledons. */
  | 'dead';

/** What was seen on one plant. Leave out what was not looked at. */
export interface PlantSigns {
  readonly cut?: 'none' | 'below cotyledons' | 'above cotyledons' | 'above unifoliates' | undefined;
  readonly cotyledons?: 0 | 1 | 2 | undefined;
  readonly growingPoint?: 'green' | 'gone' | 'brown' | undefined;
  readonly axillaryBuds?: 'green' | 'none' | undefined;
  readonly stem?: 'sound' | 'lightly bruised' | 'heavily bruised and folded' | undefined;
}

export interface PlantJudgement {
  readonly state: GrowingPointState;
  readonly because: string;
  readonly source: Source;
}

/**
 * One plant's chance from its signs, in the order in which the published rules decide it: what kills comes first,
 * then what saves. A dry bean's growing point sits at the top of the plant; buds in the leaf axils, the cotyledonary
 * node among them, replace it.
 */
export function judgePlant(signs: PlantSigns): PlantJudgement {
  if (signs.cut === 'below cotyledons') {
    return {
      state: 'dead',
      because: 'cut below the cotyledons, no bud is left',
      source: published('ontarioBeans', 'manitobaBeans', 'minnesotaSoybean'),
    };
  }
  if (signs.stem === 'heavily bruised and folded') {
    return { state: 'dead', because: 'stem heavily bruised and folded over', source: published('manitobaBeans') };
  }
  if (signs.growingPoint === 'green') {
    return { state: 'growing', because: 'the growing point is green', source: published('manitobaBeans') };
  }
  if (signs.axillaryBuds === 'green') {
    return { state: 'buds alive', because: 'a bud in an axil is green', source: published('ndsuHail2018') };
  }
  if (signs.axillaryBuds === 'none') {
    return {
      state: 'dead',
      because: 'neither growing point nor bud is left',
      source: publishedWith('bald heads start from axillary buds, then fail without them', 'ontarioBeans'),
    };
  }
  if (signs.cut === 'above unifoliates') {
    return {
      state: 'buds alive',
      because: 'cut above the unifoliates, four buds are left',
      source: published('minnesotaSoybean', 'manitobaBeans'),
    };
  }
  if (signs.cut === 'above cotyledons') {
    return signs.cotyledons === 0
      ? {
          state: 'doubtful',
          because: 'cut above the cotyledons with none left to feed the buds',
          source: publishedWith(
            'soybean wants about one and a half cotyledons when no leaf is left',
            'minnesotaSoybean',
          ),
        }
      : {
          state: 'buds alive',
          because: 'cut above the cotyledons, buds are left',
          source: published('ndsuHail2018'),
        };
  }
  if (signs.growingPoint === undefined && signs.cotyledons === 1) {
    return { state: 'growing', because: 'one cotyledon missing is survived', source: published('manitobaBeans') };
  }
  if (signs.stem === 'lightly bruised' && signs.growingPoint === undefined) {
    return { state: 'growing', because: 'a light bruise is survived', source: published('manitobaBeans') };
  }
  return { state: 'doubtful', because: 'the signs do not decide it', source: COMMON_PRACTICE };
}
