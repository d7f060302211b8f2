import type { CountInterval } from '../../src/core/plants/countInterval.ts';

/** Plant finding in one scene against its truth. */
export interface Scored {
  readonly name: string;
  readonly tags: Readonly<Record<string, string | number | boolean>>;
  readonly held: boolean;
  readonly truth: number;
  readonly counted: number;
  readonly hit: number;
  readonly wrong: number;
  readonly missed: number;
  readonly baseErrorsMm: readonly number[];
  readonly marks: readonly { readonly confidence: number; readonly right: boolean }[];
  readonly interval: CountInterval;
  readonly rowFound: boolean;
  readonly codes: readonly string[];
  readonly ms: number;
}

/** One line per scene, one per stratum, then how often marks of each confidence are right. */
export function printReliability(scored: readonly Scored[]): void {
  console.log('scene                      true  got  err%  prec   rec    F1  base mm  90% interval  ms');
  for (const s of scored) console.log(`${s.name.slice(0, 25).padEnd(26)} ${sceneLine(s)}`);
  const strata = new Map<string, Scored[]>();
  const put = (key: string, s: Scored): void => void strata.set(key, [...(strata.get(key) ?? []), s]);
  for (const s of scored) {
    put(s.held ? 'ALL held out' : 'ALL', s);
    for (const key of ['view', 'stage', 'light', 'soil', 'surface', 'residue', 'weeds', 'hard']) {
      const tag = String(s.tags[key] ?? '').replace(/ \d+ deg/, '');
      if (tag !== '') put(`${key} ${tag}`, s);
    }
  }
  console.log('\nstratum                     n  |err|%  bias%  prec   rec    F1  base mm  covered');
  for (const [key, list] of [...strata].sort(([a], [b]) => (a < b ? -1 : 1))) console.log(stratumLine(key, list));

  const bins = Array.from({ length: 10 }, () => ({ n: 0, right: 0, sum: 0 }));
  for (const { confidence, right } of scored.flatMap((s) => s.marks)) {
    const bin = bins[Math.min(9, Math.floor(confidence * 10))]!;
    bin.n++;
    bin.sum += confidence;
    if (right) bin.right++;
  }
  console.log('\nconfidence  marks  mean said  right');
  for (const [k, b] of bins.entries()) {
    if (b.n === 0) continue;
    const range = `${(k / 10).toFixed(1)}-${((k + 1) / 10).toFixed(1)}`;
    console.log(
      `${range.padEnd(11)} ${String(b.n).padStart(5)} ${(b.sum / b.n).toFixed(2).padStart(10)} ${(b.right / b.n).toFixed(2).padStart(6)}`,
    );
  }
}

function sceneLine(s: Scored): string {
  const { low, high } = s.interval;
  const covers = low <= s.truth && s.truth <= high;
  return [
    String(s.truth).padStart(4),
    String(s.counted).padStart(4),
    percent((s.counted - s.truth) / Math.max(1, s.truth)).padStart(5),
    ratio(s.hit, s.hit + s.wrong),
    ratio(s.hit, s.hit + s.missed),
    ratio(2 * s.hit, 2 * s.hit + s.wrong + s.missed),
    mean(s.baseErrorsMm).toFixed(1).padStart(8),
    `${low}..${high} ${covers ? 'holds' : 'MISSES'}`.padStart(14),
    s.ms.toFixed(0).padStart(5),
    s.rowFound ? '' : 'no row',
    s.codes.join(' '),
  ].join(' ');
}

function stratumLine(key: string, list: readonly Scored[]): string {
  const sum = (of: (s: Scored) => number): number => list.reduce((a, s) => a + of(s), 0);
  const errors = list.map((s) => (s.counted - s.truth) / Math.max(1, s.truth));
  const hit = sum((s) => s.hit);
  return [
    key.padEnd(26),
    String(list.length).padStart(3),
    percent(mean(errors.map(Math.abs))).padStart(7),
    percent(mean(errors)).padStart(6),
    ratio(hit, hit + sum((s) => s.wrong)),
    ratio(hit, hit + sum((s) => s.missed)),
    ratio(2 * hit, 2 * hit + sum((s) => s.wrong) + sum((s) => s.missed)),
    mean(list.flatMap((s) => s.baseErrorsMm))
      .toFixed(1)
      .padStart(8),
    percent(mean(list.map((s) => (s.interval.low <= s.truth && s.truth <= s.interval.high ? 1 : 0)))).padStart(8),
  ].join(' ');
}

function mean(list: readonly number[]): number {
  return list.length === 0 ? Number.NaN : list.reduce((a, b) => a + b, 0) / list.length;
}

function percent(share: number): string {
  return Number.isFinite(share) ? (100 * share).toFixed(1) : '-';
}

function ratio(part: number, whole: number): string {
  return (whole === 0 ? '-' : (part / whole).toFixed(3)).padStart(5);
}
