import type { Scene } from './sceneTruth.ts';

/** The arguments that count a scene; with `marks` some of its true readings stand in for the search. */
export function sceneArgs({ path, truth }: Scene, marks: boolean): string[] {
  const given = [...truth.countArgs];
  const readings = truth.reference.readings ?? [];
  if (marks && readings.length >= 2) {
    const at = given.indexOf('--reference');
    if (at >= 0) given.splice(at, 2);
    const step = Math.max(1, Math.floor(readings.length / 6));
    for (const r of readings.filter((_, i) => i % step === 0)) given.push('--mark', `${r.xPx},${r.yPx}=${r.readingM}m`);
  }
  return [path, ...given];
}
