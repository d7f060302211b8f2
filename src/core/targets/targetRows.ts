import { COMMON_PRACTICE, fromMemory, published, publishedWith, type Source } from '../sources/source.ts';
import { METRES_PER_INCH } from '../units/conversions.ts';
import type { TargetAudience, TargetRow } from './targetRow.ts';

const ALL: TargetAudience = { all: 'dry beans' };

function rows(fromIn: number, toIn: number = fromIn): TargetRow['rowWidthM'] {
  return { from: fromIn * METRES_PER_INCH, to: toIn * METRES_PER_INCH };
}

function of(marketClass: string): TargetAudience {
  return { marketClass };
}

/** A row in plants (or seeds) per acre for every habit, in the order: name, set, audience, widths, low, high, source. */
function perAcre(
  id: string,
  set: string,
  audience: TargetAudience,
  rowWidthM: TargetRow['rowWidthM'],
  [low, high]: readonly [number, number],
  source: Source,
  counted: TargetRow['of'] = 'plants',
): TargetRow {
  return { id, set, audience, habit: null, rowWidthM, of: counted, low, high, unit: 'perAcre', source };
}

const WIDE = 'wide rows taken as 28 to 30 in';
const STAND = 'common practice by class';
const PLANTED = 'common practice by seed size';
const ND = 'North Dakota 2021';

/**
 * Target populations as they were found, each with its source. Tables that could not be read are left out rather than
 * guessed: seeding rates of OMAFRA Publication 811 (Ontario), class tables of Manitoba, anything for Colorado.
 */
export const TARGET_ROWS: readonly TargetRow[] = [
  perAcre('practice-navy-15', STAND, of('navy'), rows(15), [135_000, 140_000], COMMON_PRACTICE),
  perAcre('practice-navy-30', STAND, of('navy'), rows(30), [95_000, 100_000], COMMON_PRACTICE),
  perAcre('practice-black-15', STAND, of('black'), rows(15), [135_000, 140_000], COMMON_PRACTICE),
  perAcre('practice-black-30', STAND, of('black'), rows(30), [95_000, 100_000], COMMON_PRACTICE),
  perAcre('practice-pinto-20', STAND, of('pinto'), rows(20), [75_000, 85_000], COMMON_PRACTICE),
  { ...perAcre('practice-pinto-30', STAND, of('pinto'), rows(30), [65_000, 70_000], COMMON_PRACTICE), ideal: 75_000 },
  perAcre('practice-great-northern-20', STAND, of('great northern'), rows(20), [75_000, 85_000], COMMON_PRACTICE),
  {
    ...perAcre('practice-great-northern-30', STAND, of('great northern'), rows(30), [65_000, 70_000], COMMON_PRACTICE),
    ideal: 75_000,
  },

  perAcre(
    'practice-large-30',
    PLANTED,
    { seedGroup: 'large-seeded' },
    rows(30),
    [70_000, 75_000],
    COMMON_PRACTICE,
    'seeds',
  ),
  perAcre(
    'practice-small-30',
    PLANTED,
    { seedGroup: 'small-seeded' },
    rows(30),
    [85_000, 95_000],
    COMMON_PRACTICE,
    'seeds',
  ),
  perAcre('practice-any-15', PLANTED, ALL, rows(15), [100_000, 110_000], COMMON_PRACTICE, 'seeds'),

  perAcre('nd-black', ND, of('black'), null, [90_000, 120_000], published('ndsuPopulation2021')),
  perAcre(
    'nd-navy-narrow',
    ND,
    of('navy'),
    rows(0, 22),
    [115_000, 115_000],
    publishedWith('more than this, no upper end printed', 'ndsuPopulation2021'),
  ),
  perAcre('nd-navy-wide', ND, of('navy'), rows(28, 30), [90_000, 90_000], publishedWith(WIDE, 'ndsuPopulation2021')),
  perAcre(
    'nd-pinto-narrow',
    ND,
    of('pinto'),
    rows(18, 22),
    [80_000, 80_000],
    publishedWith('preliminary: more than this, no upper end printed', 'ndsuPopulation2021'),
  ),
  perAcre('nd-pinto-wide', ND, of('pinto'), rows(28, 30), [70_000, 70_000], publishedWith(WIDE, 'ndsuPopulation2021')),

  perAcre(
    'nd-guide-pinto',
    'North Dakota guide A1133',
    of('pinto'),
    null,
    [70_000, 70_000],
    publishedWith('adequate', 'ndsuGuide'),
  ),
  {
    ...perAcre(
      'northarvest-navy-bush',
      'Northarvest 2007',
      of('navy'),
      null,
      [90_000, 90_000],
      publishedWith('no gain above it', 'northarvest2007'),
    ),
    habit: 'I',
  },
  perAcre(
    'msu-black-20',
    'Michigan trial 2019',
    of('black'),
    rows(20),
    [91_000, 129_000],
    publishedWith('no yield difference within it', 'msuPopulation2019'),
  ),

  perAcre('manitoba-narrow', 'Manitoba', ALL, rows(7.5), [80_000, 120_000], published('manitobaBeans')),
  perAcre('manitoba', 'Manitoba', ALL, null, [90_000, 120_000], published('manitobaBeans')),
  perAcre(
    'saskatchewan-navy',
    'Saskatchewan narrow rows',
    of('navy'),
    rows(9, 12),
    [140_000, 150_000],
    published('saskPulse'),
  ),
  perAcre(
    'saskatchewan-black',
    'Saskatchewan narrow rows',
    of('black'),
    rows(9, 12),
    [140_000, 150_000],
    published('saskPulse'),
  ),
  perAcre(
    'alberta-irrigated',
    'Alberta irrigated',
    ALL,
    null,
    [95_000, 100_000],
    publishedWith('quoted there for Alberta', 'saskPulse'),
  ),
  {
    id: 'csidc-irrigated',
    set: 'Saskatchewan irrigated',
    audience: ALL,
    habit: null,
    rowWidthM: rows(24, 32),
    of: 'plants',
    low: 25,
    high: 30,
    unit: 'perSquareMetre',
    source: published('csidcIrrigated'),
  },

  perAcre(
    'nebraska-irrigated',
    'Nebraska irrigated',
    ALL,
    null,
    [60_000, 90_000],
    publishedWith('often 30 in rows', 'nebraskaProfile2001'),
  ),
  perAcre(
    'nebraska-dryland',
    'Nebraska dryland',
    ALL,
    null,
    [18_000, 30_000],
    publishedWith('often 30 in rows', 'nebraskaProfile2001'),
  ),
  perAcre('idaho', 'Idaho', ALL, rows(22, 24), [70_000, 95_000], published('idahoQuickFacts'), 'seeds'),
  perAcre(
    'wyoming-pinto',
    'Wyoming trial 2016',
    of('pinto'),
    rows(22),
    [65_000, 65_000],
    published('wyomingTrial2016'),
    'seeds',
  ),

  perAcre(
    'memory-kidney',
    'large-seeded from memory',
    of('kidney'),
    rows(28, 30),
    [70_000, 90_000],
    fromMemory('US kidney beans on 28 to 30 in rows'),
  ),
  perAcre(
    'memory-cranberry',
    'large-seeded from memory',
    of('cranberry'),
    rows(28, 30),
    [70_000, 90_000],
    fromMemory('US cranberry beans on 28 to 30 in rows'),
  ),
];

/** Where no set is named, these are asked in turn. */
export const USUAL_SETS: readonly string[] = [STAND, PLANTED];
