/**
 * Keeps the shape of the source tree: import arrows, cycles, file sizes, purity of the core.
 * Prints one line per fault and exits 1 when there is any. The arrows are explained in DEVELOPERS.md.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';

const MAX_LINES = 400;

/** A folder may import from the folders listed here, and from itself. */
const ARROWS: Readonly<Record<string, readonly string[]>> = {
  core: [],
  worker: ['core'],
  node: ['core', 'worker'],
  browser: ['core', 'worker'],
  server: ['core', 'node', 'worker'],
  ui: ['core', 'worker', 'browser', 'server'],
  cli: ['core', 'node', 'worker', 'server'],
};

/** Inside core, a folder may import from those before it in this list, and from itself. */
const CORE_ORDER: readonly string[] = [
  'faults',
  'sources',
  'units',
  'sync',
  'statistics',
  'geometry',
  'raster',
  'reference',
  'straighten',
  'plants',
  'detector',
  'stand',
  'sampling',
  'targets',
  'outlook',
  'damage',
  'yield',
  'decision',
  'diagnosis',
  'count',
  'picture',
  'corrections',
  'learning',
  'visit',
  'report',
  'archive',
];

const IMPURE: ReadonlyArray<readonly [RegExp, string]> = [
  [/\bMath\.random\b/, 'randomness (pass a seeded generator in)'],
  [/\bDate\.now\b|\bnew Date\(\)/, 'the clock (pass the time in)'],
  [/from 'node:/, 'a Node module'],
  [/\b(document|window|navigator)\./, 'the DOM'],
  [/\bfetch\(/, 'the network'],
];

/** Engines round these differently in the last bit, and a photo must count the same in all of them. */
const PHOTO_FOLDERS = ['geometry', 'reference', 'straighten', 'plants', 'detector', 'count'];
const UNEVEN: ReadonlyArray<readonly [RegExp, string]> = [
  [/\S \*\* 2\b/, 'x ** 2 (use square)'],
  [/\bMath\.hypot\(/, 'Math.hypot (use norm)'],
];

const root = process.cwd();
const faults: string[] = [];

function filesUnder(dir: string): string[] {
  return readdirSync(dir, { withFileTypes: true }).flatMap((entry) => {
    const path = join(dir, entry.name);
    if (entry.isDirectory()) return filesUnder(path);
    return /\.tsx?$/.test(entry.name) ? [path] : [];
  });
}

function importsOf(path: string, text: string): string[] {
  const found = [...text.matchAll(/(?:from|import)\s*\(?\s*'(\.[^']+)'/g)].map((m) => m[1] as string);
  return found.map((spec) => relative(root, join(dirname(path), spec)));
}

function place(path: string): { top: string; folder: string } {
  const parts = relative(join(root, 'src'), join(root, path)).split('/');
  return { top: parts[0] ?? '', folder: parts.length > 2 ? (parts[1] ?? '') : '' };
}

const sources = filesUnder(join(root, 'src')).map((p) => relative(root, p));
const graph = new Map<string, string[]>();
for (const path of sources) {
  const text = readFileSync(join(root, path), 'utf8');
  const targets = importsOf(join(root, path), text);
  graph.set(path, targets);
  const from = place(path);
  for (const target of targets) {
    const to = place(target);
    if (to.top !== from.top && !ARROWS[from.top]?.includes(to.top)) {
      faults.push(`${path}: ${from.top} must not import ${to.top} (${target})`);
    }
    if (from.top === 'core' && to.top === 'core' && from.folder !== to.folder) {
      const a = CORE_ORDER.indexOf(from.folder);
      const b = CORE_ORDER.indexOf(to.folder);
      if (from.folder !== '' && a < 0) faults.push(`${path}: folder core/${from.folder} is not in the order list`);
      else if (from.folder !== '' && b > a) faults.push(`${path}: core/${from.folder} must not import ${target}`);
    }
  }
  if (from.top === 'core') {
    for (const [pattern, what] of IMPURE) if (pattern.test(text)) faults.push(`${path}: core uses ${what}`);
    const uneven = PHOTO_FOLDERS.includes(from.folder) ? UNEVEN : [];
    for (const [pattern, what] of uneven) if (pattern.test(text)) faults.push(`${path}: rounds unevenly: ${what}`);
  }
}

for (const path of [...sources, ...filesUnder(join(root, 'tests')), ...filesUnder(join(root, 'scripts'))]) {
  const name = path.startsWith('/') ? relative(root, path) : path;
  const lines = readFileSync(join(root, name), 'utf8').split('\n').length - 1;
  if (lines > MAX_LINES) faults.push(`${name}: ${lines} lines, at most ${MAX_LINES}`);
}

const done = new Set<string>();
function visit(path: string, trail: readonly string[]): void {
  if (trail.includes(path)) {
    faults.push(`import cycle: ${[...trail.slice(trail.indexOf(path)), path].join(' -> ')}`);
    return;
  }
  if (done.has(path)) return;
  for (const next of graph.get(path) ?? []) visit(next, [...trail, path]);
  done.add(path);
}
for (const path of graph.keys()) visit(path, []);

for (const fault of faults) console.error(fault);
console.log(`${sources.length} source files, ${faults.length} faults`);
if (faults.length > 0) process.exit(1);
