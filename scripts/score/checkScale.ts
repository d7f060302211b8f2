import { basename } from 'node:path';
import { parseCountArgs } from '../../src/cli/commands/parseCountArgs.ts';
import type { CountOptions } from '../../src/core/count/countOptions.ts';
import { focalPx } from '../../src/core/count/focalPx.ts';
import type { Photo } from '../../src/core/count/photo.ts';
import { applyHomography, type Homography, invertHomography } from '../../src/core/geometry/homography.ts';
import { findReference } from '../../src/core/reference/findReference.ts';
import { solvePlane } from '../../src/core/reference/plane/solvePlane.ts';
import type {
  CameraCues,
  FoundLine,
  FoundReference,
  NoReference,
  Reading,
} from '../../src/core/reference/reference.ts';
import { findRod } from '../../src/core/reference/rod/findRod.ts';
import { greenPoints } from '../../src/core/reference/rows/greenPoints.ts';
import { findTape } from '../../src/core/reference/tape/findTape.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import type { Scene, SceneTruth } from './sceneTruth.ts';

export interface ScaleRow {
  readonly name: string;
  /** Kind of the reference asked for. */
  readonly kind: string;
  /** Error of the scale at the row, per cent; null where none was found. */
  readonly scalePct: number | null;
  /** Error of a length over the visible reference, and what was said of it (1 sd), millimetres; null without a line. */
  readonly line: { readonly errorMm: number; readonly saidMm: number } | null;
  /** The same for a stretch as long as the reference 15 cm beside it, the worse side: what is said of the soil plane. */
  readonly beside: { readonly errorMm: number; readonly saidMm: number } | null;
}

export async function photoOf(scene: Scene): Promise<Photo> {
  const photo = await readPhoto(scene.path);
  if (!photo.ok) throw new Error(photo.found);
  return photo.value;
}

export function optionsOf({ path, truth }: Scene): CountOptions {
  const args = parseCountArgs([path, ...truth.countArgs]);
  if (!args.ok) throw new Error(args.found);
  return args.value.options;
}

export function cuesOf({ facts, raster }: Photo, options: CountOptions): CameraCues {
  return {
    focalPx: focalPx(facts.focal35Mm, raster.widthPx, raster.heightPx),
    heightM: options.cameraHeight.heightM,
    heightSdM: options.cameraHeight.sdM,
    heightGiven: options.cameraHeight.given,
    gravity: options.gravity,
    rowWidthM: options.rowWidthM,
  };
}

/** Finds one scene's reference and prints a line about it. */
export async function checkScale(scene: Scene): Promise<ScaleRow> {
  const photo = await photoOf(scene);
  const options = optionsOf(scene);
  const cues = cuesOf(photo, options);
  const { reference: request } = options;
  const start = process.cpuUsage();
  let line: FoundLine | null = null;
  let found: FoundReference | NoReference;
  if (request.kind === 'tape' || request.kind === 'rod') {
    const seen = request.kind === 'tape' ? findTape(photo.raster, request, cues) : findRod(photo.raster, request);
    line = seen.kind === 'none' ? null : seen;
    const green = () => greenPoints(photo.raster);
    found = seen.kind === 'none' ? seen : solvePlane(seen, cues, { ...photo.raster, green });
  } else found = findReference(photo.raster, request, cues);
  const used = process.cpuUsage(start);
  const name = basename(scene.path, '.jpg');
  const asked = scene.truth.countArgs[scene.truth.countArgs.indexOf('--reference') + 1] ?? 'auto';
  const head = `${name.padEnd(24)} ${(scene.truth.countArgs.includes('--reference') ? asked : 'auto').padEnd(14)}`;
  const ms = `${((used.user + used.system) / 1000).toFixed(0)} ms`;
  if (found.kind === 'none') {
    console.log(`${head} none ${ms} ${found.reason}`);
    return { name, kind: request.kind, scalePct: null, line: null, beside: null };
  }
  const { fromM, toM } = scene.truth.stretch;
  const besideMm = besideErrorMm(found, scene.truth);
  const along = line === null ? null : alongLine(line, scene.truth, photo.raster.widthPx, photo.raster.heightPx);
  const errorMm = 1000 * (rowLength(found.photoToGround, scene.truth) - (toM - fromM));
  const lengthM = found.endsM[1] - found.endsM[0];
  const pct = (mm: number, ofM: number): string => `${(mm / 10 / ofM).toFixed(2).padStart(6)} %`;
  const part =
    along === null
      ? ''
      : ` line ${pct(along.errorMm, along.lengthM)} said ${pct(line!.lengthErrorMm, along.lengthM)} bend ${along.worstMm.toFixed(1)} mm ends ${along.endsMm.map((e) => e.toFixed(1)).join(' ')} mm seen ${line!.endsSeen.map((s) => (s ? 'y' : 'n')).join('')}`;
  console.log(
    `${head} ${found.kind.padEnd(5)} row ${pct(errorMm, toM - fromM)} beside ${pct(besideMm, lengthM)} said ${pct(found.alongErrorMm, lengthM)}${part} ${ms} ${found.warnings.map((w) => w.code).join(',')}`,
  );
  // Bands lie on the skin of a rod, its true readings in its middle: no comparison end to end.
  const onSkin = line?.kind === 'rod' && line.byEnds !== true;
  return {
    name,
    kind: request.kind,
    scalePct: errorMm / 10 / (toM - fromM),
    line: along === null || onSkin ? null : { errorMm: along.errorMm, saidMm: line!.lengthErrorMm },
    beside: { errorMm: besideMm, saidMm: found.alongErrorMm },
  };
}

/** Error of a length on the soil from end to end of the reference, 15 cm beside it, the worse side; millimetres. */
function besideErrorMm(found: FoundReference, truth: SceneTruth): number {
  const back = invertHomography(truth.photoToGround);
  const [a, b] = found.endsPx.map((p) => applyHomography(truth.photoToGround, p));
  const lengthM = Math.hypot(b![0] - a![0], b![1] - a![1]);
  const [ux, uy] = [(b![0] - a![0]) / lengthM, (b![1] - a![1]) / lengthM];
  const errors = [-0.15, 0.15].map((side) => {
    const [start, end] = [a!, b!].map(([x, y]) =>
      applyHomography(found.photoToGround, applyHomography(back, [x - side * uy, y + side * ux])),
    );
    return 1000 * (end![0] - start![0] - lengthM);
  });
  return errors.reduce((p, q) => (Math.abs(q) > Math.abs(p) ? q : p));
}

/** Length of the true stretch at the row's line, metres, through a found plane. */
function rowLength(map: Homography, truth: SceneTruth): number {
  const back = invertHomography(truth.photoToGround);
  const [a, b] = [truth.stretch.fromM, truth.stretch.toM].map((m) =>
    applyHomography(map, applyHomography(back, [m, 0])),
  );
  return Math.abs(b![0] - a![0]);
}

/**
 * The found readings against the true ones: error end to end over the readings in the photo, the worst departure between
 * from an even stretch, and where the found ends lie along the true reference, millimetres from the nearest true end.
 */
function alongLine(line: FoundLine, truth: SceneTruth, widthPx: number, heightPx: number) {
  const readings = truth.reference.readings ?? [];
  const visible = readings.filter((r) => r.xPx >= 0 && r.yPx >= 0 && r.xPx < widthPx && r.yPx < heightPx);
  const at = visible
    .map((r) => ({ trueM: r.readingM, ...valueAt(line.readings, r.xPx, r.yPx) }))
    .filter((r) => r.inside);
  const [first, last] = [at[0], at.at(-1)];
  if (first === undefined || last === undefined || at.length < 2) {
    return { errorMm: Number.NaN, lengthM: 1, worstMm: Number.NaN, endsMm: [] };
  }
  const lengthM = Math.abs(last.trueM - first.trueM);
  const foundM = last.readingM - first.readingM;
  const worstMm = Math.max(
    ...at.map((r) =>
      Math.abs(
        1000 *
          ((r.readingM - first.readingM) / foundM - (r.trueM - first.trueM) / (last.trueM - first.trueM)) *
          lengthM,
      ),
    ),
  );
  const endsMm = line.endsPx.map(([x, y]) => {
    const m = valueAt(readings, x, y, true).readingM;
    const off = truth.reference.endsM.map((e) => 1000 * (m - e));
    return off.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a));
  });
  return { errorMm: 1000 * (Math.abs(foundM) - lengthM), lengthM, worstMm, endsMm };
}

/** Reading at a pixel by a quadratic through three neighbouring readings. */
function valueAt(readings: readonly Reading[], x: number, y: number, beyond = false) {
  let best = { readingM: 0, sidePx: Number.POSITIVE_INFINITY, inside: false };
  for (let i = 0; i + 1 < readings.length; i++) {
    const a = readings[i]!;
    const b = readings[i + 1]!;
    const [dx, dy] = [b.xPx - a.xPx, b.yPx - a.yPx];
    const raw = ((x - a.xPx) * dx + (y - a.yPx) * dy) / (dx * dx + dy * dy);
    const t = Math.max(0, Math.min(1, raw));
    const sidePx = Math.hypot(a.xPx + t * dx - x, a.yPx + t * dy - y);
    if (sidePx >= best.sidePx) continue;
    best = {
      readingM: between(readings, i, beyond || Math.abs(raw - t) < 0.05 ? raw : t),
      sidePx,
      inside: Math.abs(raw - t) < 0.05,
    };
  }
  return best;
}

function between(readings: readonly Reading[], i: number, t: number): number {
  const j = Math.min(i, readings.length - 3);
  if (j < 0) return readings[i]!.readingM * (1 - t) + readings[i + 1]!.readingM * t;
  const p = [0, 1, 2].map((k) => readings[j + k]!);
  const apart = (a: Reading, b: Reading): number => Math.hypot(b.xPx - a.xPx, b.yPx - a.yPx);
  const s1 = apart(p[0]!, p[1]!);
  const s2 = s1 + apart(p[1]!, p[2]!);
  const s = i === j ? t * s1 : s1 + t * (s2 - s1);
  const [r0, r1, r2] = p.map((q) => q.readingM) as [number, number, number];
  return (
    (r0 * (s - s1) * (s - s2)) / (s1 * s2) +
    (r1 * s * (s - s2)) / (s1 * (s1 - s2)) +
    (r2 * s * (s - s1)) / (s2 * (s2 - s1))
  );
}

/**
 * By kind: bias and spread of the scale, then true error over what was said (1 sd) along the line and beside it. Honest is
 * about 68 % within 1 sd, 95 % within 2, a root mean square of 1; less than 1 says more doubt than there was.
 */
export function printCalibration(rows: readonly ScaleRow[]): void {
  console.log(
    '\nkind     found    scale % mean   rms worst    line/said rms  <1sd  <2sd   beside/said rms  <1sd  <2sd',
  );
  for (const kind of ['tape', 'rod', 'frame', 'cards', 'auto', 'all']) {
    const mine = rows.filter((r) => kind === 'all' || r.kind === kind);
    const scale = mine.flatMap((r) => r.scalePct ?? []);
    if (scale.length === 0) continue;
    const mean = scale.reduce((sum, v) => sum + v, 0) / scale.length;
    const worst = Math.max(...scale.map(Math.abs));
    const cells = [mean, rms(scale), worst].map((v) => v.toFixed(2).padStart(6)).join('');
    console.log(
      `${kind.padEnd(6)} ${String(scale.length).padStart(3)} of ${String(mine.length).padEnd(3)}    ${cells}     ${overSaid(mine.map((r) => r.line))}     ${overSaid(mine.map((r) => r.beside))}`,
    );
  }
}

const rms = (values: readonly number[]): number => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length);

function overSaid(some: readonly ScaleRow['line'][]): string {
  const ratios = some.flatMap((r) => (r === null || !Number.isFinite(r.errorMm) ? [] : Math.abs(r.errorMm) / r.saidMm));
  const within = (k: number): string => `${ratios.filter((x) => x <= k).length}/${ratios.length}`.padStart(6);
  return `${(ratios.length === 0 ? '-' : rms(ratios).toFixed(2)).padStart(10)}${within(1)}${within(2)}`;
}

/** Error of a found line end to end, per cent; the true picture size is not needed where the line was found in it. */
export function lineError(line: FoundLine, { truth }: Scene): number {
  const { errorMm, lengthM } = alongLine(line, truth, 1e6, 1e6);
  return errorMm / 10 / lengthM;
}
