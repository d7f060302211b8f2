import type { SceneScore } from './scoreScene.ts';

/** One line a scene. */
export function printTable(rows: readonly { name: string; score: SceneScore }[]): void {
  console.log(`${'scene'.padEnd(34)} scale%   true count  err%  in90   F1   miss false  spacing-RMSE  gaps`);
  for (const { name, score: s } of rows) {
    const scale = s.scaleErrorPct === null ? ' none ' : s.scaleErrorPct.toFixed(2).padStart(6);
    console.log(
      [
        name.padEnd(34).slice(0, 34),
        scale + (s.warned ? '!' : ' '),
        String(s.trueCount).padStart(5),
        String(s.count).padStart(5),
        countError(s).toFixed(1).padStart(6),
        s.covered ? ' yes' : '  no',
        (s.f1 === null ? '-' : s.f1.toFixed(3)).padStart(6),
        String(s.missed).padStart(4),
        String(s.falseAlarms).padStart(5),
        `${rmse(s.spacingErrorsMm)} mm`.padStart(11),
        `${s.gapsFound}/${s.gapsTrue}`.padStart(8),
      ].join(' '),
    );
  }
}

/** The same figures for all scenes, held-out ones, and each value of each tag. */
export function printStrata(
  rows: readonly { tags: Readonly<Record<string, string | boolean>>; holdOut: boolean; score: SceneScore }[],
): void {
  console.log(
    `\n${'stratum'.padEnd(26)}  n  scale found  median|scale|%  worst  mean|count|%    F1   in 90 %  spacing-RMSE  gaps`,
  );
  const line = (name: string, some: readonly SceneScore[]): void => {
    if (some.length === 0) return;
    const errors = some
      .flatMap((s) => (s.scaleErrorPct === null ? [] : [Math.abs(s.scaleErrorPct)]))
      .sort((a, b) => a - b);
    const sum = (pick: (s: SceneScore) => number) => some.reduce((a, s) => a + pick(s), 0);
    // Without a scale nothing is counted between readings: those photos are left out of the count's figures.
    const scaled = some.filter((s) => s.scaleFound);
    const of = (pick: (s: SceneScore) => number) => scaled.reduce((a, s) => a + pick(s), 0);
    const f1 =
      (2 * of((s) => s.matched)) /
      Math.max(1, 2 * of((s) => s.matched) + of((s) => s.missed) + of((s) => s.falseAlarms));
    const counted = scaled.filter((s) => s.trueCount > 0);
    console.log(
      [
        name.padEnd(26).slice(0, 26),
        String(some.length).padStart(3),
        `${errors.length}/${some.length}`.padStart(11),
        (errors.length ? errors[errors.length >> 1]!.toFixed(2) : '-').padStart(14),
        (errors.length ? errors.at(-1)!.toFixed(2) : '-').padStart(8),
        (counted.reduce((a, s) => a + Math.abs(countError(s)), 0) / Math.max(1, counted.length))
          .toFixed(1)
          .padStart(12),
        f1.toFixed(3).padStart(8),
        `${scaled.filter((s) => s.covered).length}/${scaled.length}`.padStart(8),
        `${rmse(some.flatMap((s) => s.spacingErrorsMm))} mm`.padStart(12),
        `${sum((s) => s.gapsFound)}/${sum((s) => s.gapsTrue)}`.padStart(7),
      ].join(' '),
    );
  };
  line(
    'all',
    rows.map((r) => r.score),
  );
  line(
    'held out',
    rows.filter((r) => r.holdOut).map((r) => r.score),
  );
  const keys = [...new Set(rows.flatMap((r) => Object.keys(r.tags)))].sort();
  for (const key of keys) {
    for (const value of [...new Set(rows.map((r) => String(r.tags[key])))].sort()) {
      line(
        `${key}: ${value}`,
        rows.filter((r) => String(r.tags[key]) === value).map((r) => r.score),
      );
    }
  }
}

function countError(s: SceneScore): number {
  if (s.trueCount === 0) return s.count === 0 ? 0 : 100;
  return ((s.count - s.trueCount) / s.trueCount) * 100;
}

function rmse(errors: readonly number[]): string {
  if (errors.length === 0) return '-';
  return Math.sqrt(errors.reduce((a, e) => a + e * e, 0) / errors.length).toFixed(1);
}
