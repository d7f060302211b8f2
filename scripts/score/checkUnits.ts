import { basename } from 'node:path';
import type { FoundLine } from '../../src/core/reference/reference.ts';
import { findTape } from '../../src/core/reference/tape/findTape.ts';
import { cuesOf, lineError, optionsOf, photoOf } from './checkScale.ts';
import type { Scene } from './sceneTruth.ts';

const SILENT_LIMIT_PCT = 3;

/**
 * Every tape with each of its possible units named, with the file's focal length and without: prints the scale error of
 * what is taken, and counts what is more than 3 % off without a warning about it.
 */
export async function checkUnits(scenes: readonly Scene[]): Promise<void> {
  let silent = 0;
  for (const scene of scenes.filter((s) => s.truth.reference.kind === 'tape')) {
    const photo = await photoOf(scene);
    const options = optionsOf(scene);
    const cells: string[] = [];
    for (const focal of ['file', 'none'] as const) {
      const known = cuesOf(photo, options);
      const cues = focal === 'none' ? { ...known, focalPx: null } : known;
      for (const units of ['in', 'cm', 'auto'] as const) {
        const request =
          units === 'auto' ? ({ kind: 'auto' } as const) : ({ kind: 'tape', graduations: units } as const);
        const found = findTape(photo.raster, request, cues);
        const cell = found.kind === 'none' ? 'refused' : errorCell(found, scene);
        if (cell.endsWith('SILENT')) silent++;
        cells.push(`${units}/${focal} ${cell}`.padEnd(26));
      }
    }
    console.log(`${basename(scene.path, '.jpg').padEnd(24)} ${cells.join(' ')}`);
  }
  console.log(`${silent} scales more than ${SILENT_LIMIT_PCT} % off without a warning about the units`);
}

function errorCell(found: FoundLine, scene: Scene): string {
  const pct = lineError(found, scene);
  const warned = found.warnings.some((w) => /unit|length-disagrees/.test(w.code));
  const text = `${pct.toFixed(1)} %${warned ? ' warned' : ''}`;
  return Math.abs(pct) > SILENT_LIMIT_PCT && !warned ? `${text} SILENT` : text;
}
