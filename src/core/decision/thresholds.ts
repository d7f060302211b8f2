import { own, publishedWith } from '../sources/source.ts';
import { SQUARE_METRES_PER_ACRE } from '../units/conversions.ts';

/** Money decides at even odds; below one in twenty it decides whatever the count. */
export const MONEY_ODDS = {
  replantFrom: 0.5,
  surelyNotBelow: 0.05,
  source: own('even odds are the break-even; one in twenty is the usual bound of a wrong call'),
} as const;

/** A poor patch smaller than this, inside a field, is not worth a replanting of its own. */
export const LEAST_PATCH = {
  areaM2: SQUARE_METRES_PER_ACRE,
  source: publishedWith('soybean: isolated poor areas under 1 acre', 'iowaReplant1999'),
} as const;

/** What is done with a stand that the most spots worth walking cannot part from its floor. */
export const NEAR_THE_FLOOR = {
  source: own('a stand that ten spots cannot place lies so near the floor that either side yields alike'),
} as const;

export const FLOOR_CONFIDENCE = {
  source: own(
    'one-sided 95 % bounds, never narrower than chance alone gives, no call before three spots; wrong calls stay under 5 % in seeded fields',
  ),
} as const;
