/**
 * Prints how long one touch of the correcting view takes in the core: replaying a history on a photo of 200 plants,
 * asking order included. Seeded; run with `npx tsx scripts/bench-corrections.ts`.
 */
import type { Correction, PhotoChange } from '../src/core/corrections/correction.ts';
import { replay } from '../src/core/corrections/replay.ts';
import { questions } from '../src/core/corrections/reviewOrder.ts';
import { seededRandom } from '../src/core/statistics/seededRandom.ts';
import { drawnCount } from '../tests/core/corrections/drawnCount.ts';

const PLANTS = 200;
const random = seededRandom(7);
const result = drawnCount(Array.from({ length: PLANTS }, () => 'xxxxod?w'[Math.floor(random() * 8)]).join(''));

function history(length: number, withReading: boolean): Correction[] {
  return Array.from({ length }, (_, i) => ({
    id: `k${i}`,
    at: new Date(Date.UTC(2026, 5, 16, 15, 0, i)).toISOString(),
    by: 'Ann',
    change: withReading && i === length - 1 ? reading() : someChange(i),
  }));
}

function reading(): PhotoChange {
  return { kind: 'move reading', readingM: 0, xPx: 103 + random(), yPx: 500 };
}

function someChange(i: number): PhotoChange {
  const plantId = `p${Math.floor(random() * PLANTS)}`;
  const [xPx, yPx] = [100 + random() * 20_000, 400];
  const kinds: readonly PhotoChange[] = [
    { kind: 'confirm plant', plantId },
    { kind: 'remove plant', plantId },
    { kind: 'name plant', plantId, as: 'weed' },
    { kind: 'move plant', plantId, xPx, yPx },
    { kind: 'add plant', plantId: `n${i}`, xPx, yPx },
    { kind: 'split plant', plantId },
    { kind: 'undo', correctionId: `k${i - 1}` },
  ];
  return kinds[i % kinds.length]!;
}

console.log(
  `one touch, ${PLANTS} plants, core only, 200 touches after 50 to warm up: ms by the clock (median, slowest), CPU ms`,
);
for (const [name, records] of [
  ['5 corrections', history(5, false)],
  ['200 corrections', history(200, false)],
  ['1000 corrections', history(1000, false)],
  ['200 corrections and a reading dragged', history(200, true)],
] as const) {
  const times: number[] = [];
  let kept = 0;
  let cpu = process.cpuUsage();
  for (let i = 0; i < 250; i++) {
    if (i === 50) cpu = process.cpuUsage();
    const start = performance.now();
    kept += questions(replay(result, records), 15).length;
    if (i >= 50) times.push(performance.now() - start);
  }
  const { user, system } = process.cpuUsage(cpu);
  const cpuMs = (user + system) / 1000 / times.length;
  times.sort((a, b) => a - b);
  const cells = [times[100]!, times[199]!, cpuMs].map((ms) => ms.toFixed(2).padStart(8)).join('');
  console.log(`${name.padEnd(40)}${cells}   (${kept / 250} asked)`);
}
