import { published } from '../sources/source.ts';
import type { Cause } from './cause.ts';
import { fits, remembered, telling, usual } from './cause.ts';

/** Planter, seed, chemicals and traffic. */
export const MANAGEMENT_CAUSES: readonly Cause[] = [
  {
    id: 'group 14 herbicide',
    name: 'group 14 herbicide splash',
    signs: [
      telling('necrotic spots'),
      usual('low spots'),
      usual('rain at emergence'),
      remembered('overlaps'),
      usual('group 14'),
    ],
    source: published('iowaHerbicide2017'),
    nextYear: 'mind the label on rate, soil and rain near emergence',
  },
  {
    id: 'group 15 herbicide',
    name: 'group 15 herbicide',
    signs: [
      telling('crinkled leaves'),
      fits('stunted'),
      usual('rain at emergence'),
      remembered('overlaps'),
      usual('group 15'),
    ],
    source: published('ontarioFieldCrops', 'iowaHerbicide2017'),
    nextYear: 'mind the label on rate and timing',
  },
  {
    id: 'group 27 carry-over',
    name: 'group 27 herbicide carry-over',
    signs: [telling('bleached'), usual('overlaps'), fits('wheel tracks'), telling('corn herbicide')],
    source: published('ontarioFieldCrops'),
    nextYear: 'keep to the label interval before beans',
  },
  {
    id: 'group 2 or 3 herbicide',
    name: 'group 2 or 3 herbicide',
    signs: [
      usual('red veins'),
      telling('brittle stem'),
      fits('stunted'),
      remembered('overlaps'),
      usual('group 2 or 3'),
    ],
    source: published('ontarioFieldCrops', 'iowaHerbicide2017'),
    nextYear: 'mind the label; check the sprayer for overlaps and residues',
  },
  {
    id: 'seed damage',
    name: 'damaged seed, bald heads',
    signs: [
      telling('no growing point'),
      usual('snapped cotyledons'),
      telling('cracked coats'),
      remembered('seed lot'),
      fits('random pattern'),
      usual('dry seed'),
    ],
    source: published('ontarioBeans', 'saskAgriculture'),
    nextYear: 'handle seed gently, at 14 to 16 % moisture or more; test vigour',
  },
  {
    id: 'planter',
    name: 'planter skips, doubles or wrong plate',
    signs: [
      remembered('no seed in gap', 'telling'),
      remembered('seeds touching', 'telling'),
      remembered('by row unit', 'telling'),
      usual('high speed'),
    ],
    source: published('isuSkipsDoubles'),
    nextYear: 'match plate or cup, vacuum and speed to the seed; test each row unit',
  },
  {
    id: 'depth',
    name: 'depth error',
    signs: [
      remembered('long white hypocotyl', 'telling'),
      remembered('seed on surface'),
      usual('uneven emergence'),
      remembered('by row unit'),
      telling('no depth control'),
    ],
    source: published('ontarioBeans'),
    nextYear: 'set each row unit to one depth in each soil and dig to check',
  },
  {
    id: 'traffic',
    name: 'wheel traffic after emergence',
    signs: [usual('broken plants'), telling('wheel tracks')],
    source: published('saskAgriculture'),
    nextYear: 'use tramlines',
  },
  {
    id: 'fertilizer burn',
    name: 'fertilizer burn',
    signs: [
      remembered('brown root tips'),
      remembered('by row unit', 'fits'),
      fits('knolls'),
      telling('starter in furrow'),
    ],
    source: published('ndsuStarter'),
    nextYear: 'keep starter off the seed, or at the low rate',
  },
];
