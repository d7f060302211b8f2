/**
 * Scores the whole TypeScript chain on held-out strips of the training renderer (shifted settings, other seeds), and
 * with `--write` puts the calibration, the best threshold and the base's spread into the model's card.
 *
 *   npx tsx scripts/train/evaluate-held.ts --held artifacts/held [--model models/seedlings] [--write]
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { calibrate } from '../../src/core/detector/calibrate.ts';
import type { DetectorCard } from '../../src/core/detector/detectorCard.ts';
import { findPlantsWithModel } from '../../src/core/detector/findPlantsWithModel.ts';
import type { Point } from '../../src/core/geometry/point.ts';
import type { Strip } from '../../src/core/straighten/strip.ts';
import { onnxRunner } from '../../src/node/onnxRunner.ts';
import { matchPoints } from '../score/matchPoints.ts';

interface HeldPlant {
  readonly crown: Point;
  readonly base: Point;
  readonly kind: number;
  readonly stage: number;
  readonly state: 'asked' | 'hidden' | 'out';
}
interface Held {
  readonly width: number;
  readonly height: number;
  readonly mmPerPx: number;
  readonly strips: readonly {
    readonly file: string;
    readonly footPx: Point;
    readonly heightM: number;
    readonly view: number;
    readonly scene: number;
    readonly stage: number;
    readonly plants: readonly HeldPlant[];
  }[];
}
interface Tally {
  hit: number;
  wrong: number;
  wrongOnWeed: number;
  missed: number;
  strips: number;
  countError: number;
}

const { values } = parseArgs({
  options: {
    held: { type: 'string', default: 'artifacts/held' },
    model: { type: 'string', default: 'models/seedlings' },
    write: { type: 'boolean', default: false },
  },
});
const MATCH_MM = 20;
const CROWDED_MM = 25;
const THRESHOLDS = [0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5];
const VIEWS = ['down', 'side', 'along'];

const held = JSON.parse(readFileSync(join(values.held, 'held.json'), 'utf8')) as Held;
const matchPx = MATCH_MM / held.mmPerPx;
const cardPath = `${values.model}.json`;
const card = JSON.parse(readFileSync(cardPath, 'utf8')) as DetectorCard;
const run = await onnxRunner(readFileSync(`${values.model}.onnx`), { threads: 1 });
const tables = new Map<string, Tally>();
const scored: { score: number; hit: boolean; half: number }[] = [];
const baseMm: { error: number; alongMm: number; tangent: number; vertical: boolean }[] = [];

for (const [index, entry] of held.strips.entries()) {
  const strip = stripOf(entry);
  const { detections } = await findPlantsWithModel(
    strip,
    { coveredStripPx: [], rowAcrossM: null, rowWidthM: null, seedSpacingM: null },
    run,
    {
      ...card,
      calibration: [
        [0, 0],
        [1, 1],
      ],
    },
  );
  const asked = entry.plants.filter((p) => p.kind === 1 && p.state === 'asked');
  const hidden = entry.plants.filter((p) => p.kind === 1 && p.state !== 'asked');
  const weeds = entry.plants.filter((p) => p.kind !== 1);
  for (const threshold of [...THRESHOLDS, 0]) {
    const found = detections.filter((d) => d.kind !== 'weed' && d.confidence >= threshold);
    const m = matchPoints(
      found.map((d) => d.crownStripPx),
      asked.map((p) => p.crown),
      matchPx,
    );
    const near = (list: readonly HeldPlant[], f: number) =>
      list.some(
        (p) => Math.hypot(p.crown[0] - found[f]!.crownStripPx[0], p.crown[1] - found[f]!.crownStripPx[1]) <= matchPx,
      );
    const wrong = m.falseAlarms.filter((f) => !near(hidden, f));
    if (threshold === 0) {
      for (const [f] of m.pairs) scored.push({ score: found[f]!.confidence, hit: true, half: index % 2 });
      for (const f of wrong) scored.push({ score: found[f]!.confidence, hit: false, half: index % 2 });
      continue;
    }
    for (const key of keysOf(entry, asked)) {
      const t = tables.get(`${key} ${threshold}`) ?? {
        hit: 0,
        wrong: 0,
        wrongOnWeed: 0,
        missed: 0,
        strips: 0,
        countError: 0,
      };
      tables.set(`${key} ${threshold}`, t);
      t.hit += m.pairs.length;
      t.wrong += wrong.length;
      t.wrongOnWeed += wrong.filter((f) => near(weeds, f)).length;
      t.missed += m.missed.length;
      t.strips += 1;
      t.countError += m.pairs.length + wrong.length - asked.length;
    }
    if (threshold !== 0.3) continue;
    for (const [f, p] of m.pairs) {
      const [bx, by] = asked[p]!.base;
      const [x, y] = found[f]!.baseStripPx;
      const tangent = Math.hypot(x - entry.footPx[0], y - entry.footPx[1]) / ((entry.heightM * 1000) / held.mmPerPx);
      baseMm.push({
        error: Math.hypot(x - bx, y - by) * held.mmPerPx,
        alongMm: (x - bx) * held.mmPerPx,
        tangent,
        vertical: entry.view === 0,
      });
    }
  }
}

const f1 = (t: Tally) => (2 * t.hit) / Math.max(1, 2 * t.hit + t.wrong + t.missed);
const best = THRESHOLDS.reduce((a, b) => (f1(tables.get(`all ${b}`)!) > f1(tables.get(`all ${a}`)!) ? b : a));
console.log(
  `${held.strips.length} held-out strips; F1 by threshold ${THRESHOLDS.map((t) => `${t} ${f1(tables.get(`all ${t}`)!).toFixed(3)}`).join(' | ')}`,
);
for (const [key, t] of [...tables].filter(([k]) => k.endsWith(` ${best}`)).sort()) {
  const want = t.hit + t.missed;
  console.log(
    `  ${key.replace(` ${best}`, '').padEnd(16)} F1 ${f1(t).toFixed(3)} hit ${t.hit} missed ${t.missed} wrong ${t.wrong} (on weeds ${t.wrongOnWeed}) count ${((100 * t.countError) / Math.max(1, want)).toFixed(1)} % in ${t.strips} strips`,
  );
}
const table = risingTable(scored);
console.log(
  `expected calibration error, fitted on one half and read on the other: ${crossError().toFixed(3)}; fitted and read on all: ${calibrationError(scored, table).toFixed(3)}`,
);
const median = (list: readonly number[]) => [...list].sort((a, b) => a - b)[Math.floor(list.length / 2)] ?? Number.NaN;
for (const [name, list] of [
  ['down', baseMm.filter((b) => b.vertical)],
  ['oblique', baseMm.filter((b) => !b.vertical)],
] as const) {
  console.log(
    `  base error ${name}: median ${median(list.map((b) => b.error)).toFixed(1)} mm, along the row ${median(list.map((b) => Math.abs(b.alongMm))).toFixed(1)} mm, n ${list.length}`,
  );
}
if (values.write) {
  const sd = (list: typeof baseMm) => 1.48 * median(list.map((b) => Math.abs(b.alongMm)));
  const down = sd(baseMm.filter((b) => b.vertical));
  const oblique = baseMm.filter((b) => !b.vertical);
  const tangent = median(oblique.map((b) => b.tangent));
  const slope = Math.sqrt(Math.max(0, sd(oblique) ** 2 - down ** 2)) / tangent;
  const next = {
    ...card,
    threshold: best,
    calibration: table,
    baseSdMm: round(down, 1),
    baseSdMmPerTangent: round(slope, 1),
  };
  writeFileSync(cardPath, `${JSON.stringify(next, null, 2)}\n`);
  console.log(`wrote ${cardPath}: threshold ${best}`);
}

function keysOf(entry: Held['strips'][number], asked: readonly HeldPlant[]): string[] {
  const keys = ['all', VIEWS[entry.view] ?? 'other'];
  keys.push(
    entry.stage < 0.8 ? 'hook' : entry.stage < 1.2 ? 'cotyledon' : entry.stage < 2.1 ? 'first pair' : 'trifoliate',
  );
  const crowded = asked.filter((p) =>
    asked.some(
      (q) => q !== p && Math.hypot(p.crown[0] - q.crown[0], p.crown[1] - q.crown[1]) * held.mmPerPx < CROWDED_MM,
    ),
  );
  keys.push(crowded.length > 0.15 * asked.length || entry.scene === 3 ? 'crowded' : 'clear');
  keys.push(entry.plants.some((p) => p.kind !== 1) ? 'weedy' : 'no weeds');
  return keys;
}

function stripOf(entry: Held['strips'][number]): Strip {
  const rgb = readFileSync(join(values.held, entry.file));
  const data = new Uint8Array(held.width * held.height * 4).fill(255);
  for (let i = 0; i < held.width * held.height; i++) {
    for (let c = 0; c < 3; c++) data[4 * i + c] = rgb[3 * i + c]!;
  }
  const step = held.mmPerPx / 1000;
  const camera = { alongM: entry.footPx[0] * step, acrossM: -entry.footPx[1] * step, heightM: entry.heightM };
  const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1] as const;
  const raster = { widthPx: held.width, heightPx: held.height, data };
  const place = { mmPerPx: held.mmPerPx, alongAtLeftM: 0, acrossAtTopM: 0, worstPhotoPxPerStripPx: 1 };
  return { raster, ...place, photoToStrip: identity, stripToPhoto: identity, camera };
}

/** Pool-adjacent-violators on equally filled blocks of sorted scores (Barlow et al. 1972). */
function risingTable(list: readonly { score: number; hit: boolean }[]): [number, number][] {
  const sorted = [...list].sort((a, b) => a.score - b.score);
  const size = Math.max(1, Math.ceil(sorted.length / 14));
  const out: { score: number; chance: number; n: number }[] = [];
  for (let i = 0; i < sorted.length; i += size) {
    const part = sorted.slice(i, i + size);
    let block = {
      score: part.reduce((a, p) => a + p.score, 0) / part.length,
      chance: part.filter((p) => p.hit).length / part.length,
      n: part.length,
    };
    for (let last = out.at(-1); last !== undefined && last.chance > block.chance; last = out.at(-1)) {
      out.pop();
      const n = last.n + block.n;
      block = {
        score: (last.score * last.n + block.score * block.n) / n,
        chance: (last.chance * last.n + block.chance * block.n) / n,
        n,
      };
    }
    out.push(block);
  }
  return out.map((b) => [round(b.score, 4), round(b.chance, 4)]);
}

/** Mean distance between stated chance and hit rate over ten bins of the chance, weighted by their size. */
function calibrationError(
  list: readonly { score: number; hit: boolean }[],
  by: readonly (readonly [number, number])[],
): number {
  const bins = Array.from({ length: 10 }, () => ({ n: 0, chance: 0, hit: 0 }));
  for (const { score, hit } of list) {
    const p = calibrate(score, by);
    const bin = bins[Math.min(9, Math.floor(p * 10))]!;
    bin.n++;
    bin.chance += p;
    bin.hit += hit ? 1 : 0;
  }
  return bins.reduce((sum, b) => sum + Math.abs(b.chance - b.hit), 0) / Math.max(1, list.length);
}

function crossError(): number {
  const halves = [0, 1].map((k) => scored.filter((s) => s.half === k));
  return (
    (calibrationError(halves[0]!, risingTable(halves[1]!)) + calibrationError(halves[1]!, risingTable(halves[0]!))) / 2
  );
}

function round(v: number, digits: number): number {
  return Number(v.toFixed(digits));
}
