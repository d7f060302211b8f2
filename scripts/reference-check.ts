/**
 * Finds the tape or rod in each scene that has a truth file and prints how far off it is: scale error over the visible
 * stretch in percent, ends in pixels, processor time. Usage: npx tsx scripts/reference-check.ts [FOLDER] [NAME PART]
 */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { parseReference } from '../src/core/reference/parseReference.ts';
import type { FoundLine, Reading } from '../src/core/reference/reference.ts';
import { findRod } from '../src/core/reference/rod/findRod.ts';
import { findTape } from '../src/core/reference/tape/findTape.ts';

const folder = process.argv[2] ?? 'sample-images';
const part = process.argv[3] ?? '';
const rows: { scale: number; ok: boolean }[] = [];

for (const file of readdirSync(folder).filter((f) => f.endsWith('.jpg') && f.includes(part))) {
  const path = join(folder, file);
  const truthPath = path.replace(/\.jpg$/, '.truth.json');
  if (!existsSync(truthPath)) continue;
  const truth = JSON.parse(readFileSync(truthPath, 'utf8'));
  const args: string[] = truth.countArgs ?? ['--reference', truth.reference?.request ?? ''];
  const name = args[args.indexOf('--reference') + 1] ?? '';
  const parsed = parseReference(name);
  if (!parsed.ok || (parsed.value.kind !== 'tape' && parsed.value.kind !== 'rod')) continue;
  const request = parsed.value;
  const { data, info } = await sharp(path).autoOrient().ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  const photo = { widthPx: info.width, heightPx: info.height, data };
  const camera = {
    focalPx: (truth.camera?.focalPx ?? truth.focalPx ?? null) as number | null,
    heightM: 1.5,
    heightSdM: 0.3,
  };
  const start = process.cpuUsage();
  const found = request.kind === 'tape' ? findTape(photo, request, camera) : findRod(photo, request, camera);
  const used = process.cpuUsage(start);
  const ms = (used.user + used.system) / 1000;
  if (found.kind === 'none') {
    rows.push({ scale: Number.NaN, ok: (truth.reference?.readings ?? []).length === 0 });
    console.log(`${file.padEnd(34)} ${name.padEnd(16)} none  ${ms.toFixed(0)} ms  ${found.reason}`);
    continue;
  }
  const errors = compare(found, truth.reference.readings, truth.reference.endsPx, info.width, info.height);
  rows.push({ scale: errors.scale, ok: true });
  console.log(
    `${file.padEnd(34)} ${name.padEnd(16)} found scale ${errors.scale.toFixed(2)} % local ${errors.worst.toFixed(2)} % off line ${errors.side.toFixed(1)} px` +
      ` ends ${errors.ends.map((e) => e.toFixed(1)).join(' ')} px seen ${found.endsSeen.map((s) => (s ? 'y' : 'n')).join('')}` +
      ` said ${found.lengthErrorMm.toFixed(1)} mm off ${errors.lengthMm.toFixed(1)} mm  ${ms.toFixed(0)} ms  ${found.warnings.map((w) => w.code).join(',')}`,
  );
}

const scales = rows.filter((r) => Number.isFinite(r.scale)).map((r) => Math.abs(r.scale));
scales.sort((a, b) => a - b);
console.log(
  `${rows.length} scenes, found ${scales.length}, median |scale error| ${(scales[scales.length >> 1] ?? Number.NaN).toFixed(2)} %, worst ${(scales.at(-1) ?? Number.NaN).toFixed(2)} %`,
);

/** Differences between true readings against those the found line gives at the same pixels. */
function compare(
  found: FoundLine,
  readings: readonly Reading[],
  trueEnds: readonly (readonly [number, number])[],
  widthPx: number,
  heightPx: number,
) {
  const visible = readings.filter((r) => r.xPx >= 0 && r.yPx >= 0 && r.xPx < widthPx && r.yPx < heightPx);
  const at = visible.map((r) => ({ truth: r, ...readingAt(found, r.xPx, r.yPx) })).filter((r) => r.inside);
  const first = at[0];
  const last = at.at(-1);
  if (first === undefined || last === undefined || at.length < 2) {
    return { scale: 100, worst: 100, side: 0, ends: [], lengthMm: 1e4 };
  }
  const trueLength = Math.abs(last.truth.readingM - first.truth.readingM);
  const length = Math.abs(last.readingM - first.readingM);
  let worst = 0;
  for (let i = 0; i + 1 < at.length; i++) {
    for (let j = i + 1; j < at.length; j++) {
      const d = Math.abs(at[j]!.truth.readingM - at[i]!.truth.readingM);
      if (d < 0.25 * trueLength || d > 0.4 * trueLength) continue;
      const e = Math.abs(at[j]!.readingM - at[i]!.readingM) / d - 1;
      if (Math.abs(e) > Math.abs(worst)) worst = e;
    }
  }
  const ends = found.endsPx.map(([x, y]) => Math.min(...trueEnds.map(([tx, ty]) => Math.hypot(tx - x, ty - y))));
  return {
    scale: 100 * (length / trueLength - 1),
    worst: 100 * worst,
    side: Math.max(...at.map((r) => r.sidePx)),
    ends,
    lengthMm: 1000 * Math.abs(length - trueLength),
  };
}

function readingAt(found: FoundLine, x: number, y: number) {
  const { readings } = found;
  let best = { readingM: 0, sidePx: Number.POSITIVE_INFINITY, inside: false };
  for (let i = 0; i + 1 < readings.length; i++) {
    const a = readings[i]!;
    const b = readings[i + 1]!;
    const dx = b.xPx - a.xPx;
    const dy = b.yPx - a.yPx;
    const raw = ((x - a.xPx) * dx + (y - a.yPx) * dy) / (dx * dx + dy * dy);
    const t = Math.max(0, Math.min(1, raw));
    const side = Math.hypot(a.xPx + t * dx - x, a.yPx + t * dy - y);
    if (side >= best.sidePx) continue;
    // readings are projective between two points: three neighbours give the curvature
    best = { readingM: between(readings, i, t), sidePx: side, inside: raw === t };
  }
  return best;
}

/** Quadratic through three neighbouring readings. */
function between(readings: readonly Reading[], i: number, t: number): number {
  const j = Math.min(i, readings.length - 3);
  if (j < 0) return readings[i]!.readingM * (1 - t) + readings[i + 1]!.readingM * t;
  const p = [0, 1, 2].map((k) => readings[j + k]!);
  const len = (a: Reading, b: Reading): number => Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx);
  const s1 = len(p[0]!, p[1]!);
  const s2 = s1 + len(p[1]!, p[2]!);
  const s = i === j ? t * s1 : s1 + t * (s2 - s1);
  const [r0, r1, r2] = p.map((q) => q!.readingM) as [number, number, number];
  return (
    (r0 * (s - s1) * (s - s2)) / (s1 * s2) +
    (r1 * s * (s - s2)) / (s1 * (s1 - s2)) +
    (r2 * s * (s - s1)) / (s2 * (s2 - s1))
  );
}
