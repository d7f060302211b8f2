/**
 * Times the count on a 12-megapixel photo step by step, against an OpenCV script of the plain steps in the same run.
 *
 *   npm run bench [-- --scene NAME] [-- --runs N] [-- --model none]
 *
 * Prints medians and fastest runs in milliseconds (the fastest say most where others use the machine too), and the peak
 * memory of a fresh process that counts the photo once.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import sharp from 'sharp';
import { scenesIn } from './score/sceneTruth.ts';

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '7' },
    model: { type: 'string', default: 'none' },
    scene: { type: 'string' },
  },
});
const TWELVE_MP = [4000, 3000] as const;

const scenes = scenesIn('sample-images');
const scene = scenes.find((s) => s.path.includes(values.scene ?? 'side')) ?? scenes[0];
if (scene === undefined)
  throw new Error(`no scenes among ${readdirSync('sample-images').length} files of sample-images`);

// The sample enlarged to 12 megapixels, so that the figure means what it says whatever the sample's size.
const photo12 = join(mkdtempSync(join(tmpdir(), 'rowledger-bench-')), 'photo.jpg');
writeFileSync(
  photo12,
  await sharp(scene.path)
    .autoOrient()
    .resize(TWELVE_MP[0], TWELVE_MP[1], { fit: 'fill' })
    .keepExif()
    .withMetadata({ orientation: 1 })
    .jpeg({ quality: 90 })
    .toBuffer(),
);

// From the built program in plain Node, as people run it: the loader that runs this script slows calls, since it names
// each function whenever one is made.
const { times, photoToStrip, stripPx } = JSON.parse(
  execFileSync(
    process.execPath,
    ['scripts/bench-count.mjs', photo12, values.model, values.runs, ...scene.truth.countArgs],
    { encoding: 'utf8' },
  ),
) as { times: Record<string, number[]>; photoToStrip: number[]; stripPx: number[] };

const opencv = JSON.parse(
  execFileSync(
    '/usr/bin/python3',
    ['scripts/bench-opencv.py', photo12, JSON.stringify(photoToStrip), ...stripPx.map(String), values.runs],
    { encoding: 'utf8' },
  ),
) as Record<string, number[]>;

const peakKb = Number(
  execFileSync(
    process.execPath,
    [
      '--input-type=module',
      '-e',
      `process.argv.splice(1, 0, 'rowledger'); const { runCount } = await import('${join(process.cwd(), 'dist/cli/commands/count.js')}');
       await runCount(${JSON.stringify([photo12, ...scene.truth.countArgs, '--model', values.model, '--json'])}, { stdout: () => {}, stderr: () => {} });
       console.log(process.resourceUsage().maxRSS);`,
    ],
    { encoding: 'utf8' },
  ),
);

const sorted = (list: readonly number[] | undefined) => [...(list ?? [])].sort((a, b) => a - b);
const median = (list: readonly number[] | undefined) => sorted(list)[(list ?? []).length >> 1] as number;
const fastest = (list: readonly number[] | undefined) => sorted(list)[0] as number;
const table = (title: string, steps: Record<string, readonly number[]>) => {
  console.log(`\n${title.padEnd(16)} median fastest (ms)`);
  for (const [name, list] of Object.entries(steps)) {
    console.log(`  ${name.padEnd(14)}${median(list).toFixed(0).padStart(7)}${fastest(list).toFixed(0).padStart(8)}`);
  }
};
console.log(
  `12-megapixel photo made from ${scene.path}, model ${values.model}, ${values.runs} runs, ${cpus()[0]?.model} x ${cpus().length}, Node ${process.version}`,
);
table('Rowledger', times);
table('OpenCV, 1 thread', opencv);
const ratio = (of: typeof median) => (of(times.total) / of(opencv.total)).toFixed(2);
console.log(
  `\nratio ${ratio(median)}, of the fastest runs ${ratio(fastest)} (at most 3 wanted); peak memory ${(peakKb / 1024).toFixed(0)} MB (at most 600 wanted)`,
);
