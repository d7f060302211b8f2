import { type Camera, projectPoint } from '../../geometry/camera.ts';
import { exponential } from '../../geometry/exponential.ts';
import { carried, fitLineMap, whitener } from '../../geometry/fitLineMap.ts';
import { norm } from '../../geometry/norm.ts';
import type { Point } from '../../geometry/point.ts';
import { square } from '../../statistics/square.ts';
import type { FoundLine } from '../reference.ts';
import { cameraOfLine, lineViewFor } from './lineCamera.ts';
import type { PoseProblem } from './solvePose.ts';

/** A line on the soil parallel to the reference, such as a neighbouring row: two photo points, at a known distance. */
export interface ParallelLine {
  readonly linePx: readonly [Point, Point];
  /** Distance from the reference, metres to its left. */
  readonly acrossM: number;
  readonly acrossSdM: number;
  /** Rise of the line to the left for each metre along, where it is not quite parallel; `acrossM` is then at zero. */
  readonly slope?: number;
}

/** Readings place a line no better than this in the long run: paint, print and lens err together. */
const LEAST_SD_PX = 0.25;

/**
 * The camera over one straight reference. Readings fix a projective map of five degrees of freedom (four with only two
 * readings); a camera is compared with that map with its full covariance, widened where the readings misfit. The
 * parameters are those of LineView, the focal length as a log. Null when readings fix no line.
 */
export function lineProblem(
  { readings, narrowingSd }: Pick<FoundLine, 'readings' | 'narrowingSd'>,
  widths: FoundLine['widths'],
  lines: readonly ParallelLine[],
  focalPx: number,
  middlePx: Point,
): PoseProblem | null {
  const seen = seenLine(readings, widths, narrowingSd);
  if (seen === null) return null;
  const { firstM, lastM, values, whiten } = seen;
  const [fx, fy, lx, ly] = values as [number, number, number, number];
  const vanish = values[4] ?? null;
  return {
    start: (up) => {
      const view = lineViewFor(up, [fx, fy], [lx, ly], vanish, focalPx, middlePx);
      return view === null ? null : [fx, fy, lx, ly, view.vanish, view.turn, 0];
    },
    cameraAt: (p) =>
      cameraOfLine(
        {
          firstPx: [p[0]!, p[1]!],
          lastPx: [p[2]!, p[3]!],
          vanish: p[4]!,
          turn: p[5]!,
          focalPx: focalPx * exponential(p[6]!),
        },
        firstM,
        lastM,
        middlePx,
      ),
    residuals: (p, camera) => {
      const out: number[] = [];
      for (const row of whiten) {
        let sum = 0;
        for (let i = 0; i < row.length; i++) sum += row[i]! * (p[i]! - values[i]!);
        out.push(sum);
      }
      for (const line of lines) parallelResiduals(camera, line, firstM, lastM, out);
      return out;
    },
    steps: [1e-3, 1e-3, 1e-3, 1e-3, 1e-6, 1e-6, 1e-6],
  };
}

interface SeenLine {
  readonly firstM: number;
  readonly lastM: number;
  /** Pixels of first and last reading, then vanish where three readings or more tell it. */
  readonly values: readonly number[];
  readonly whiten: readonly (readonly number[])[];
}

function seenLine(readings: FoundLine['readings'], widths: FoundLine['widths'], narrowingSd = 0): SeenLine | null {
  const map = fitLineMap(readings.map((r) => ({ value: r.readingM, at: [r.xPx, r.yPx], sd: Math.max(0.05, r.sdPx) })));
  if (map === null) return twoEnds(readings, widths, narrowingSd);
  const read = ([ox, oy, dx, dy, w]: readonly number[]): number[] => [
    (ox! - dx!) / (1 - w!),
    (oy! - dy!) / (1 - w!),
    (ox! + dx!) / (1 + w!),
    (oy! + dy!) / (1 + w!),
    w!,
  ];
  const values = read(map.parameters);
  const columns = map.parameters.map((value, k) => {
    const step = Math.max(1e-8, 1e-2 * Math.sqrt(map.covariance[k]![k]!));
    const moved = (by: number) => read(map.parameters.map((v, i) => (i === k ? value + by : v)));
    const [above, below] = [moved(step), moved(-step)];
    return above.map((v, i) => (v - below[i]!) / (2 * step));
  });
  const lengthPx = norm(values[2]! - values[0]!, values[3]! - values[1]!);
  const inflate = square(Math.max(1, map.misfit));
  // Half the length times vanish is how far the middle reading shifts.
  const floor = [LEAST_SD_PX, LEAST_SD_PX, LEAST_SD_PX, LEAST_SD_PX, (2 * LEAST_SD_PX) / lengthPx];
  const jacobian = values.map((_, i) => columns.map((column) => column[i]!));
  const covariance = carried(jacobian, map.covariance).map((row, i) =>
    row.map((v, j) => v * inflate + (i === j ? square(floor[i]!) : 0)),
  );
  const whiten = whitener(covariance);
  if (!(lengthPx > 1) || whiten === null) return null;
  return { firstM: map.middle - map.half, lastM: map.middle + map.half, values, whiten };
}

/** Widths measured in a photo tell the vanish no better than this: edges under soil and glare are not even. */
const LEAST_VANISH_SD = 0.01;

/** Two readings, and where it could be measured the even width of the rod: it narrows with distance. */
function twoEnds(readings: FoundLine['readings'], widths: FoundLine['widths'], narrowingSd: number): SeenLine | null {
  const first = readings[0];
  const last = readings[readings.length - 1];
  if (first === undefined || last === undefined || !(last.readingM > first.readingM)) return null;
  if (!(norm(last.xPx - first.xPx, last.yPx - first.yPx) > 1)) return null;
  const narrowing = vanishByWidths(widths, first.readingM, last.readingM);
  const values = [first.xPx, first.yPx, last.xPx, last.yPx, ...(narrowing === null ? [] : [narrowing.vanish])];
  const sds = [first.sdPx, first.sdPx, last.sdPx, last.sdPx].map((sd) => norm(sd, LEAST_SD_PX));
  if (narrowing !== null) sds.push(norm(narrowing.sd, narrowingSd));
  return {
    firstM: first.readingM,
    lastM: last.readingM,
    values,
    whiten: sds.map((sd, i) => sds.map((_, j) => (i === j ? 1 / sd : 0))),
  };
}

/** Least squares of 1 / width = c (1 + vanish s), s from -1 at the first reading to 1 at the last. */
function vanishByWidths(
  widths: FoundLine['widths'],
  firstM: number,
  lastM: number,
): { vanish: number; sd: number } | null {
  const points = widths
    .filter((w) => w.widthPx > 1)
    .map((w) => ({ s: (2 * w.readingM - firstM - lastM) / (lastM - firstM), v: 1 / w.widthPx }));
  const n = points.length;
  if (n < 4) return null;
  const meanS = points.reduce((sum, p) => sum + p.s, 0) / n;
  const meanV = points.reduce((sum, p) => sum + p.v, 0) / n;
  const spread = points.reduce((sum, p) => sum + square(p.s - meanS), 0);
  if (!(spread > 0.2)) return null;
  const slope = points.reduce((sum, p) => sum + (p.s - meanS) * (p.v - meanV), 0) / spread;
  const level = meanV - slope * meanS;
  const rest = points.reduce((sum, p) => sum + square(p.v - level - slope * p.s), 0) / (n - 2);
  return { vanish: slope / level, sd: norm(LEAST_VANISH_SD, Math.sqrt(rest / spread) / level) };
}

/** How far the picture of a parallel line passes from where it was seen, over what its distance's doubt moves it. */
function parallelResiduals(camera: Camera, line: ParallelLine, fromM: number, toM: number, out: number[]): void {
  const { acrossM, acrossSdM, slope = 0 } = line;
  const a = projectPoint(camera, [fromM, acrossM + slope * fromM, 0]);
  const b = projectPoint(camera, [toM, acrossM + slope * toM, 0]);
  const c = projectPoint(camera, [fromM, acrossM + acrossSdM + slope * fromM, 0]);
  const d = projectPoint(camera, [toM, acrossM + acrossSdM + slope * toM, 0]);
  for (const p of line.linePx) {
    const off = distanceToLine(p, a, b);
    out.push(off / Math.max(1, Math.abs(distanceToLine(p, c, d) - off)));
  }
}

function distanceToLine(p: Point, a: Point, b: Point): number {
  const ux = b[0] - a[0];
  const uy = b[1] - a[1];
  return ((p[0] - a[0]) * uy - (p[1] - a[1]) * ux) / norm(ux, uy);
}
