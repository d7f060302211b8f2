import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEFAULT_COUNT_OPTIONS } from '../../src/core/count/countOptions.ts';
import { countPhoto } from '../../src/core/count/countPhoto.ts';
import type { CountTools } from '../../src/core/count/photoAnalysis.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { matchPoints } from './matchPoints.ts';

interface LabelledPhoto {
  readonly file: string;
  readonly plants: readonly {
    x: number;
    y: number;
    w?: number;
    class: string;
    edge?: boolean;
    unsure?: boolean;
  }[];
  readonly ignore?: readonly { x: number; y: number; r: number }[];
}

/** Millimetres per pixel assumed (none is recorded): from seedlings of 40 to 60 mm across, by the start of the file name. */
export const REAL_FOLDERS: Readonly<Record<string, { crop: string; mmPerPx: Readonly<Record<string, number>> }>> = {
  'cotton-rows': { crop: 'cotton', mmPerPx: { s1: 0.75, s3: 1.5, s5: 0.85, h: 2, v8: 3, v: 2 } },
  'sesame-rows': { crop: 'crop', mmPerPx: { '': 1.6 } },
  'maize-rows': { crop: 'maize', mmPerPx: { '': 3 } },
};
/** Half a seedling's width. */
const MATCH_WITHIN_MM = 25;

/**
 * Scores real labelled photographs (other broadleaf crops, no scale in them): `edge` plants and `ignore` circles are
 * neither hits nor misses; figures with and without the plants whose label is itself `unsure`.
 */
export async function scoreRealPhotos(folder: string, tools: CountTools): Promise<void> {
  console.log('\nReal labelled photos (no dry beans; scale assumed from seedling size)\n');
  for (const [name, { crop, mmPerPx }] of Object.entries(REAL_FOLDERS)) {
    const list = join(folder, name, 'counts.json');
    if (!existsSync(list)) continue;
    const totals = { sure: { hit: 0, miss: 0, wrong: 0 }, all: { hit: 0, miss: 0, wrong: 0 } };
    const lines: string[] = [];
    for (const entry of JSON.parse(readFileSync(list, 'utf8')) as LabelledPhoto[]) {
      const scale = mmPerPx[Object.keys(mmPerPx).find((start) => entry.file.startsWith(start)) ?? ''];
      if (scale === undefined) continue;
      const photo = await readPhoto(join(folder, name, entry.file));
      if (!photo.ok) throw new Error(photo.found);
      const { result } = await countPhoto(
        photo.value,
        { ...DEFAULT_COUNT_OPTIONS, reference: { kind: 'scale', mmPerPx: scale } },
        tools,
      );
      const found = result.plants.filter((p) => p.kind === 'plant').map((p) => [p.xPx, p.yPx] as const);
      const within = MATCH_WITHIN_MM / scale;
      for (const kind of ['sure', 'all'] as const) {
        const plants = entry.plants.filter((p) => p.class === crop);
        const m = matchPoints(
          found,
          plants.map((p) => [p.x, p.y]),
          within,
        );
        const counts = (t: number) => !plants[t]!.edge && (kind === 'all' || !plants[t]!.unsure);
        const hit = m.pairs.filter(([, t]) => counts(t)).length;
        const miss = m.missed.filter(counts).length;
        const wrong = m.falseAlarms.filter((f) => {
          const [x, y] = found[f]!;
          const ignored = (entry.ignore ?? []).some((c) => Math.hypot(c.x - x, c.y - y) <= c.r);
          const atEdge = plants.some((p) => p.edge && Math.hypot(p.x - x, p.y - y) <= within * 2);
          return !ignored && !atEdge;
        }).length;
        totals[kind].hit += hit;
        totals[kind].miss += miss;
        totals[kind].wrong += wrong;
        if (kind === 'all') lines.push(`  ${entry.file.padEnd(26)} hit ${hit} missed ${miss} false ${wrong}`);
      }
    }
    console.log(`${name}: F1 ${f1(totals.sure)} without unsure labels, ${f1(totals.all)} with them`);
    for (const line of lines) console.log(line);
  }
}

function f1({ hit, miss, wrong }: { hit: number; miss: number; wrong: number }): string {
  return ((2 * hit) / Math.max(1, 2 * hit + miss + wrong)).toFixed(3);
}
