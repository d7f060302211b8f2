/**
 * Finds the reference of each scene that has a truth file and prints how far off its scale is, without counting:
 * along the reference itself, and at the row beside it, each with the error that was said (1 sd).
 *
 *   npx tsx scripts/reference-check.ts [--folder DIR]... [--part NAME PART] [--units | --ends]
 *
 * `--units` names every other unit for each tape instead, with the focal length of the file and without: a wrong unit
 * must be refused or warned of. `--ends` reads each tape and rod by its two ends alone, its true length named.
 */
import { parseArgs } from 'node:util';
import { checkEnds } from './score/checkEnds.ts';
import { checkScale, printCalibration } from './score/checkScale.ts';
import { checkUnits } from './score/checkUnits.ts';
import { scenesIn } from './score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    folder: { type: 'string', multiple: true, default: ['sample-images'] },
    part: { type: 'string', default: '' },
    units: { type: 'boolean', default: false },
    ends: { type: 'boolean', default: false },
  },
});

const scenes = values.folder.flatMap((folder) => scenesIn(folder)).filter((s) => s.path.includes(values.part));
if (values.units) {
  await checkUnits(scenes);
} else if (values.ends) {
  await checkEnds(scenes);
} else {
  const rows = [];
  for (const scene of scenes) rows.push(await checkScale(scene));
  printCalibration(rows);
}
