import type { SceneScore } from '../score/scoreScene.ts';
import { ARMS, type Arm } from './detectors.ts';
import type { Doubles } from './doubles.ts';
import { calibrationError, reliability } from './reliability.ts';
import type { ArmRun, SceneRun } from './runScene.ts';

/** A scene's run with all arms, the learned head among them where there is one. */
export interface Judged {
  readonly run: SceneRun;
  readonly arms: ReadonlyMap<Arm, ArmRun>;
}

const STRATA: readonly (readonly [string, (run: SceneRun) => boolean])[] = [
  ['all', () => true],
  ['held out', ({ truth }) => truth.holdOut === true],
  ['straight down', ({ truth }) => truth.tags.view === 'down'],
  ['from the side', ({ truth }) => truth.tags.view === 'side'],
  ['along the row', ({ truth }) => truth.tags.view === 'along'],
  ['hard', ({ truth }) => truth.tags.hard === true],
  ...(['hook', 'cotyledon', 'unifoliate', 'trifoliate1', 'trifoliate2'] as const).map(
    (stage) => [stage, ({ truth }: SceneRun) => truth.tags.stage === stage] as const,
  ),
  ['no overlap', ({ truth }) => Number(truth.tags.overlap) < 0.05],
  ['some overlap (5 to 20 %)', ({ truth }) => Number(truth.tags.overlap) >= 0.05 && Number(truth.tags.overlap) < 0.2],
  ['much overlap (20 % on)', ({ truth }) => Number(truth.tags.overlap) >= 0.2],
  ...(['none', 'some', 'many'] as const).map(
    (weeds) => [`weeds: ${weeds}`, ({ truth }: SceneRun) => truth.tags.weeds === weeds] as const,
  ),
];

/** One line for each stratum and way of finding plants. */
export function printAblation(judged: readonly Judged[], scale: SceneRun['scale']): void {
  const own = judged.filter(({ run }) => run.scale === scale);
  console.log(
    `\n${'stratum'.padEnd(25)} n   ${'found by'.padEnd(13)} |count|%  bias%     F1  in 90 %  spacing-RMSE  gaps   gap ends    ms`,
  );
  for (const [name, holds] of STRATA) {
    const some = own.filter(({ run }) => holds(run));
    for (const arm of ARMS) {
      const runs = some.flatMap(({ arms }) => arms.get(arm) ?? []);
      if (runs.length > 0)
        console.log(`${name.padEnd(25)} ${String(runs.length).padEnd(3)} ${arm.padEnd(13)} ${line(runs)}`);
    }
  }
}

function line(runs: readonly ArmRun[]): string {
  const scores = runs.map(({ score }) => score);
  const sum = (pick: (s: SceneScore) => number) => scores.reduce((total, s) => total + pick(s), 0);
  const errors = scores.filter((s) => s.trueCount > 0).map((s) => (100 * (s.count - s.trueCount)) / s.trueCount);
  const f1 = (2 * sum((s) => s.matched)) / (2 * sum((s) => s.matched) + sum((s) => s.missed + s.falseAlarms));
  const ms = runs.map((run) => run.ms).sort((a, b) => a - b);
  return [
    mean(errors.map(Math.abs)).toFixed(1).padStart(8),
    mean(errors).toFixed(1).padStart(6),
    f1.toFixed(3).padStart(6),
    `${scores.filter((s) => s.covered).length}/${scores.length}`.padStart(8),
    `${rms(scores.flatMap((s) => s.spacingErrorsMm))} mm`.padStart(13),
    `${sum((s) => s.gapsFound)}/${sum((s) => s.gapsTrue)}`.padStart(6),
    `${rms(scores.flatMap((s) => s.gapEndErrorsMm))} mm`.padStart(9),
    (ms[0] === 0 ? '-' : ms[ms.length >> 1]!.toFixed(0)).padStart(6),
  ].join(' ');
}

/** True pairs 10 to 20 mm apart and singles, over all scenes given. */
export function printDoubles(judged: readonly Judged[]): void {
  console.log('\nfound by       pairs 10-20 mm apart   two marks   one mark said double   singles   split');
  for (const arm of ARMS) {
    const all = judged.flatMap(({ arms }) => arms.get(arm)?.doubles ?? []);
    const sum = (pick: keyof Doubles) => all.reduce((total, one) => total + one[pick], 0);
    if (all.length === 0) continue;
    const share = (part: number, whole: number) => `${part} (${((100 * part) / Math.max(1, whole)).toFixed(0)} %)`;
    console.log(
      `${arm.padEnd(14)} ${String(sum('pairs')).padStart(20)} ${share(sum('twoMarks'), sum('pairs')).padStart(11)} ` +
        `${share(sum('saidDouble'), sum('pairs')).padStart(22)} ${String(sum('singles')).padStart(9)} ${share(sum('split'), sum('singles')).padStart(9)}`,
    );
  }
}

/** Marks called plant on ground without a crop, per metre of row. */
export function printEmpty(judged: readonly Judged[]): void {
  const grounds = [...new Set(judged.map(({ run }) => ground(run.name)))].sort();
  console.log(`\nfalse plants per metre  ${ARMS.map((arm) => arm.padStart(13)).join('')}`);
  for (const name of grounds) {
    const own = judged.filter(({ run }) => ground(run.name) === name);
    const cells = ARMS.map((arm) => {
      const runs = own.flatMap(({ arms }) => arms.get(arm) ?? []);
      return (runs.length === 0 ? '-' : mean(runs.map((r) => r.plantsPerM)).toFixed(2)).padStart(13);
    });
    console.log(`${`${name} (${own.length} strips)`.padEnd(23)} ${cells.join('')}`);
  }
}

function ground(name: string): string {
  return /^empty-([a-z]+)/.exec(name)?.[1] ?? 'sample: empty row';
}

/** How often marks of each confidence are one plant, as a diagram, and the expected calibration error. */
export function printReliability(judged: readonly Judged[]): void {
  for (const arm of ARMS) {
    const marks = judged.flatMap(({ arms }) => arms.get(arm)?.marks ?? []);
    if (marks.length === 0) continue;
    const bins = reliability(marks);
    console.log(`\n${arm}: expected calibration error ${calibrationError(bins).toFixed(3)} over ${marks.length} marks`);
    for (const { from, to, n, said, right } of bins) {
      const bar = Array.from({ length: 41 }, (_, k) =>
        k === Math.round(40 * said) ? '|' : k <= 40 * right ? '#' : '.',
      );
      console.log(
        `  ${from.toFixed(1)}-${to.toFixed(1)} ${String(n).padStart(5)}  said ${said.toFixed(2)} right ${right.toFixed(2)}  ${bar.join('')}`,
      );
    }
  }
}

function mean(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

function rms(values: readonly number[]): string {
  return values.length === 0 ? '-' : Math.sqrt(mean(values.map((v) => v * v))).toFixed(1);
}
