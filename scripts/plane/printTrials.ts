import type { Trial } from './lineTrial.ts';

const percent = (v: number): string => `${(100 * v).toFixed(2)}`.padStart(6);
const at = (sorted: readonly number[], q: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(q * sorted.length))] ?? Number.NaN;

export const HEAD =
  'case                                    n   worst error, % of length   within 1 %   said sd %   inside 1 sd   2 sd\n' +
  '                                           median    90 %   worst               median';

/** One line: errors over many random cameras, and how honest the stated error was. */
export function printTrials(name: string, trials: readonly Trial[]): void {
  const errors = trials.map((t) => t.worstShare).sort((a, b) => a - b);
  const said = trials.map((t) => t.saidShare).sort((a, b) => a - b);
  const scores = trials.flatMap((t) => t.overSaid);
  const within = errors.filter((e) => e <= 0.01).length / errors.length;
  const inside = (sd: number): string =>
    `${((100 * scores.filter((z) => Math.abs(z) <= sd).length) / Math.max(1, scores.length)).toFixed(0).padStart(4)} %`;
  console.log(
    `${name.padEnd(37)}${String(trials.length).padStart(4)}   ${percent(at(errors, 0.5))}  ${percent(at(errors, 0.9))}  ${percent(at(errors, 1))}      ${(100 * within).toFixed(0).padStart(4)} %      ${percent(at(said, 0.5))}        ${inside(1)}  ${inside(2)}`,
  );
}
