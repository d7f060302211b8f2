import { fromMemory, published } from '../sources/source.ts';
import type { Cause } from './cause.ts';
import { fits, remembered, telling, usual } from './cause.ts';

/** Insects, diseases and animals. */
export const LIVING_CAUSES: readonly Cause[] = [
  {
    id: 'seedcorn maggot',
    name: 'seedcorn maggot',
    signs: [
      telling('white maggots'),
      telling('snakeheads'),
      usual('tunnels'),
      usual('holes in first leaves'),
      usual('random pattern'),
      usual('green manure'),
      fits('cool wet'),
    ],
    source: published('wisconsinMaggot2018', 'ontarioFieldCrops', 'msuMaggot2015'),
    nextYear: 'plant two weeks or more after green matter is tilled in; ask about a seed treatment',
  },
  {
    id: 'wireworm',
    name: 'wireworm',
    signs: [telling('wiry larvae'), usual('fed-on seed'), usual('wilted'), usual('patches'), remembered('old sod')],
    source: published('wisconsinMaggot2018', 'ndsuCutworm2002'),
    nextYear: 'bait before planting; larvae live three to five years',
  },
  {
    id: 'cutworm',
    name: 'cutworm',
    signs: [
      remembered('cut at ground', 'telling'),
      remembered('curled larva', 'telling'),
      usual('notched leaves'),
      fits('wilted'),
      usual('patches'),
      remembered('late weeds'),
    ],
    source: published('ndsuCutworm2002', 'manitobaBeans'),
    nextYear: 'kill weeds and cover well before planting',
  },
  {
    id: 'pythium',
    name: 'Pythium seed and root rot',
    signs: [
      telling('soft rot'),
      usual('rotted seed'),
      usual('damping off'),
      fits('stunted'),
      remembered('low spots'),
      usual('cool wet'),
    ],
    source: published('rootRots'),
    nextYear: 'drain low ground; ask about a seed treatment; plant into warm soil',
  },
  {
    id: 'rhizoctonia',
    name: 'Rhizoctonia root rot',
    signs: [telling('red lesions'), remembered('patches'), usual('warm moist'), usual('beet or soybean')],
    source: published('rootRots'),
    nextYear: 'lengthen the rotation away from sugarbeet and soybean',
  },
  {
    id: 'fusarium',
    name: 'Fusarium root rot',
    signs: [
      telling('red inside'),
      usual('red streaks'),
      usual('stunted'),
      fits('random pattern'),
      usual('short rotation'),
    ],
    source: published('ontarioBeans', 'rootRots'),
    nextYear: 'lengthen the rotation; loosen compacted soil',
  },
  {
    id: 'slugs',
    name: 'slugs',
    signs: [usual('tip eaten'), remembered('slime', 'telling'), usual('residue'), usual('patches'), usual('cool wet')],
    source: published('marylandSlugs', 'ontarioFieldCrops'),
    nextYear: 'clear residue from the row',
  },
  {
    id: 'grazing',
    name: 'deer, rabbit or vole',
    signs: [usual('ragged cut'), telling('clean slant cut'), usual('mounds'), remembered('edges')],
    source: published('marylandSlugs'),
    nextYear: null,
  },
  {
    id: 'birds',
    name: 'birds',
    signs: [remembered('pulled seedlings', 'telling'), remembered('edges')],
    source: fromMemory('common field knowledge'),
    nextYear: null,
  },
];
