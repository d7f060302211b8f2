import type { Source } from '../sources/source.ts';
import { COMMON_PRACTICE, own, published, publishedWith } from '../sources/source.ts';
import type { GrowthHabit } from '../targets/growthHabit.ts';
import type { Band } from './band.ts';

/** Yield, as a share of that of a full stand, at one share of the full stand, with who says low and who says high. */
export interface ResponsePoint {
  readonly standShare: number;
  readonly yieldShare: Band;
  readonly sources: readonly Source[];
}

const NOTHING: ResponsePoint = {
  standShare: 0,
  yieldShare: { low: 0, high: 0 },
  sources: [{ kind: 'definition', of: 'no plants, no yield' }],
};
const FULL: ResponsePoint = {
  standShare: 1,
  yieldShare: { low: 1, high: 1 },
  sources: [
    { kind: 'definition', of: 'a full stand is the yardstick; no gain above it (Northarvest 2007, NDSU 2000)' },
  ],
};
const THIN = own('no trial of so thin a stand was read; drawn wide between the last published point and nothing');

const SOYBEAN_HALF = publishedWith('soybean at about half a stand makes 80 to 90 %', 'ndsuSoybeanStands2010');
const SOYBEAN_70 = publishedWith('soybean at 70,000 of 100,000 makes 90 to 95 %', 'pennStateReplant');
const SEMIVINE_FLAT = publishedWith('semivine yields stay flat down to 43,500 plants/ac', 'westermann1977');
const BUSH_FALLS = publishedWith('bush yields fall below about 162,000 plants/ac', 'westermann1977');

/**
 * Dry beans by growth habit: no single published curve covers them (Westermann and Crothers 1977 found bush types
 * bending down sooner than vines), so each habit gets a band through what was read. Low edges lean on soybean and on
 * the extension minimum stands, high edges on the dry-bean density trials. Where every source is silent the band is
 * wide and says so.
 */
export const RESPONSE_CURVES: Readonly<Record<GrowthHabit, readonly ResponsePoint[]>> = {
  I: [
    NOTHING,
    { standShare: 0.25, yieldShare: { low: 0.3, high: 0.65 }, sources: [THIN] },
    {
      standShare: 0.5,
      yieldShare: { low: 0.7, high: 0.9 },
      sources: [
        publishedWith('navy: below 50 to 60 % of normal the loss is major', 'ndsuMinimumStands2002'),
        BUSH_FALLS,
        COMMON_PRACTICE,
      ],
    },
    {
      standShare: 2 / 3,
      yieldShare: { low: 0.83, high: 0.95 },
      sources: [publishedWith('two thirds to three quarters of a full stand is adequate', 'ontarioBeans'), BUSH_FALLS],
    },
    {
      standShare: 0.75,
      yieldShare: { low: 0.9, high: 0.98 },
      sources: [published('ontarioBeans'), SOYBEAN_70],
    },
    FULL,
  ],
  II: [
    NOTHING,
    { standShare: 0.25, yieldShare: { low: 0.35, high: 0.75 }, sources: [THIN] },
    {
      standShare: 0.5,
      yieldShare: { low: 0.78, high: 0.95 },
      sources: [
        SOYBEAN_HALF,
        publishedWith('pods per plant rise as the stand falls', 'weinlaeder2007'),
        COMMON_PRACTICE,
      ],
    },
    {
      standShare: 0.7,
      yieldShare: { low: 0.9, high: 0.98 },
      sources: [SOYBEAN_70, publishedWith('black beans: 99,000 makes 97.0 % of 141,000', 'ndsuPopulation2018')],
    },
    {
      standShare: 0.85,
      yieldShare: { low: 0.95, high: 1 },
      sources: [
        publishedWith('black beans: no difference from 91,000 to 129,000', 'msuPopulation2019'),
        publishedWith('no response from 90,000 to 120,000', 'ndsuDensity2000'),
      ],
    },
    FULL,
  ],
  III: [
    NOTHING,
    { standShare: 0.25, yieldShare: { low: 0.4, high: 0.85 }, sources: [THIN] },
    {
      standShare: 0.4,
      yieldShare: { low: 0.72, high: 0.97 },
      sources: [
        publishedWith('pinto: below 40 to 50 % of normal the loss is major', 'ndsuMinimumStands2002'),
        SEMIVINE_FLAT,
      ],
    },
    {
      standShare: 0.5,
      yieldShare: { low: 0.8, high: 0.98 },
      sources: [SOYBEAN_HALF, SEMIVINE_FLAT, COMMON_PRACTICE],
    },
    { standShare: 0.7, yieldShare: { low: 0.9, high: 1 }, sources: [SOYBEAN_70, SEMIVINE_FLAT] },
    FULL,
  ],
};

/** Evenly spaced half stand in good weather: a check on the curves, not a point of them. */
export const HALF_STAND_RULE = {
  standShare: 0.5,
  yieldShare: { low: 0.85, high: 0.9 },
  source: COMMON_PRACTICE,
} as const;
