import { published } from '../sources/source.ts';
import type { Cause } from './cause.ts';
import { fits, remembered, telling, usual } from './cause.ts';

/** Soil, water and weather. */
export const SOIL_AND_WEATHER_CAUSES: readonly Cause[] = [
  {
    id: 'crusting',
    name: 'soil crust',
    signs: [
      usual('thick hypocotyl'),
      telling('leaves underground'),
      usual('snapped cotyledons'),
      remembered('hooks under plate', 'telling'),
      usual('fine soil'),
      telling('pounding rain'),
    ],
    source: published('ontarioBeans', 'ontarioFieldCrops'),
    nextYear: 'till less, keep residue; break the crust early with a rotary hoe (midday, not in the hook)',
  },
  {
    id: 'chilling',
    name: 'cold, damp soil',
    signs: [
      usual('uneven emergence'),
      usual('twisted hypocotyl'),
      fits('thick hypocotyl'),
      remembered('rotted seed', 'fits'),
      usual('cool wet'),
      telling('cold first day'),
      remembered('residue', 'fits'),
    ],
    source: published('manitobaBeans', 'imbibition'),
    nextYear: 'wait for 15 C in the soil, steadily',
  },
  {
    id: 'dry seedbed',
    name: 'dry seedbed or too shallow',
    signs: [
      remembered('hard seed', 'telling'),
      usual('uneven emergence'),
      telling('dry seedbed'),
      remembered('knolls'),
      remembered('by row unit', 'fits'),
    ],
    source: published('ontarioBeans'),
    nextYear: 'set seed at least half an inch into moisture',
  },
  {
    id: 'flooding',
    name: 'standing water',
    signs: [telling('standing water'), remembered('rotted seed'), remembered('low spots', 'telling')],
    source: published('saskPulse', 'ontarioFieldCrops'),
    nextYear: 'drain or leave out the depressions',
  },
  {
    id: 'compaction',
    name: 'compaction',
    signs: [
      usual('stunted'),
      fits('thick hypocotyl'),
      remembered('flat roots', 'telling'),
      remembered('wheel tracks'),
      remembered('wet traffic'),
    ],
    source: published('ontarioBeans'),
    nextYear: 'keep off wet soil; controlled traffic',
  },
  {
    id: 'salt',
    name: 'salt',
    signs: [usual('scorched margins'), remembered('seeps', 'telling'), telling('soil test salt')],
    source: published('csuBeans', 'manitobaBeans'),
    nextYear: 'leave salty ground out of beans',
  },
  {
    id: 'wind and sand',
    name: 'wind and blown sand',
    signs: [usual('tattered'), remembered('one-sided abrasion', 'telling'), remembered('knolls'), usual('storm')],
    source: published('manitobaBeans'),
    nextYear: 'keep residue or a nurse cover on sandy knolls',
  },
  {
    id: 'frost',
    name: 'frost',
    signs: [usual('water-soaked'), usual('low spots'), telling('freezing night')],
    source: published('manitobaBeans', 'ontarioBeans'),
    nextYear: 'plant after the local last frost',
  },
  {
    id: 'hail',
    name: 'hail',
    signs: [telling('bruised stems'), usual('swath'), usual('storm'), fits('broken plants')],
    source: published('ndsuHail2018'),
    nextYear: null,
  },
];
