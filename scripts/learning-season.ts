/**
 * Prints how marks to correct per photo fall with the number of corrected photos, on invented farms whose weeds or
 * stones the stock detector gets wrong, and when a learned head would have been taken. A simulation of marks (drawn
 * features, drawn confidences, a person's corrections), not of photos: it shows that the learning works where there is
 * something to learn, and stays away where there is not. How much a real farm gains is not shown by it.
 *
 *   npx tsx scripts/learning-season.ts [seed]
 *   npx tsx scripts/learning-season.ts [seed] [farms]   how often a head is taken, on so many farms of each kind
 */
import { photoErrors } from '../src/core/learning/crossValidate.ts';
import type { Example } from '../src/core/learning/example.ts';
import { learn } from '../src/core/learning/learn.ts';
import { learningSet } from '../src/core/learning/learningSet.ts';
import { markError } from '../src/core/learning/markError.ts';
import { trainHead } from '../src/worker/trainHead.ts';
import { FARMS, simulatedPhotos } from './learning/simulatedFarm.ts';

const PHOTOS = [0, 2, 5, 10, 20, 40];
const FRESH = 60;

const seed = Number(process.argv[2] ?? 20260616);
const about = { trainedAt: '2026-06-16T12:00:00Z', stock: { name: 'simulated', version: '1' } };
const train = (examples: readonly Example[], from: number) => trainHead(examples, from, about);
const mean = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;

const farms = Number(process.argv[3] ?? 0);
const start = performance.now();
const used = process.cpuUsage();
console.log(`A simulation of marks, not of photos. Seed ${seed}; errors are marks to correct per photo.`);
console.log(`"fresh": ${FRESH} further photos of the farm, never trained on; "held out": cross-validation by photo.`);
let trainings = 0;
if (farms > 0) await takenHowOften();
else
  for (const [k, [farm, sorts]] of Object.entries(FARMS).entries()) {
    const season = simulatedPhotos(sorts, Math.max(...PHOTOS), seed + 100 * k);
    const fresh = learningSet(simulatedPhotos(sorts, FRESH, seed + 100 * k + 50)).examples;
    const names = [...new Set(fresh.map((e) => e.photo))];
    const stock = mean(names.map((name) => errorsOfStock(fresh, name)));
    console.log(`\n${farm}`);
    console.log('photos  marks   fresh: stock  learned  in use   held out: stock  learned   decision');
    let inUse = stock;
    for (const n of PHOTOS) {
      const set = learningSet(season.slice(0, n));
      const { decision, head } = await learn(set, counted, seed);
      const tried = head ?? (set.examples.length > 0 ? await counted(set.examples, seed) : null);
      const learned = tried === null ? stock : mean(names.map((name) => photoErrors(name, fresh, tried).after));
      if (head !== null) inUse = learned;
      const held = (value: number | null) => (value === null ? '-' : value.toFixed(2)).padStart(8);
      console.log(
        `${String(n).padStart(6)}  ${String(set.examples.length).padStart(5)}   ${stock.toFixed(2).padStart(12)}  ` +
          `${learned.toFixed(2).padStart(7)}  ${inUse.toFixed(2).padStart(6)}   ${held(decision.before).padStart(15)} ` +
          `${held(decision.after)}   ${decision.verdict === 'cannot tell' ? '' : `${decision.verdict}: `}${decision.reason}`,
      );
    }
  }
const cpu = process.cpuUsage(used);
console.log(
  `\n${trainings} trainings, ${((performance.now() - start) / 1000).toFixed(0)} s by the clock, ` +
    `${((cpu.user + cpu.system) / 1e6).toFixed(0)} s of CPU`,
);

/** Of many farms of each kind, those that take a head at a size; and whether it was worse on fresh photos. */
async function takenHowOften(): Promise<void> {
  for (const [k, [farm, sorts]] of Object.entries(FARMS).entries()) {
    console.log(`\n${farm}: ${farms} farms`);
    console.log('photos   taken   worse on fresh photos   fresh: stock  in use');
    for (const n of [10, 20]) {
      let taken = 0;
      let worse = 0;
      const errors: [number, number][] = [];
      for (let i = 0; i < farms; i++) {
        const own = seed + 10_000 * (k + 1) + 7 * i;
        const { head } = await learn(learningSet(simulatedPhotos(sorts, n, own)), counted, seed);
        const fresh = learningSet(simulatedPhotos(sorts, FRESH, own + 3)).examples;
        const names = [...new Set(fresh.map((e) => e.photo))];
        const before = mean(names.map((name) => errorsOfStock(fresh, name)));
        const after = head === null ? before : mean(names.map((name) => photoErrors(name, fresh, head).after));
        if (head !== null) taken++;
        if (after > before) worse++;
        errors.push([before, after]);
      }
      const [before, after] = [mean(errors.map(([b]) => b)), mean(errors.map(([, a]) => a))];
      console.log(
        `${String(n).padStart(6)}  ${String(taken).padStart(6)}  ${String(worse).padStart(22)}  ` +
          `${before.toFixed(2).padStart(13)}  ${after.toFixed(2).padStart(6)}`,
      );
    }
  }
}

async function counted(examples: readonly Example[], from: number) {
  trainings++;
  return train(examples, from);
}

function errorsOfStock(examples: readonly Example[], photo: string): number {
  return examples.filter((e) => e.photo === photo).reduce((sum, e) => sum + markError(e.stock, e.label), 0);
}
