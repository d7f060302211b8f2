/**
 * Prints how long a 12-megapixel photo takes in headless Chromium until its first quick number and its count are there,
 * without and with the network, in the measuring thread alone and on the page, and the memory that the browser's processes hold at most meanwhile. Needs the built page. The photo is a
 * rendered sample image made larger, so the file is of a phone's size; its content is not sharper for it.
 *
 *   npx tsx scripts/browserSpeed.ts [RUNS]
 */
import { readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, loadavg } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { builtUi } from '../src/server/packageRoot.ts';
import { newProfile, openBrowser, startServer } from '../tests/e2e/support.ts';
import { addField, sayName, setUpPhotos, startVisit } from '../tests/e2e/walkSteps.ts';

const RUNS = Number(process.argv[2] ?? 3);
const OPTIONS = {
  reference: { kind: 'tape', graduations: 'in' },
  cameraHeight: { heightM: 1.5, sdM: 0.06, given: true },
  gravity: null,
  stretch: { fromM: 0, toM: 3.048 },
  rowWidthM: 0.762,
  seedSpacingM: 0.1,
  gapM: 0.3,
};

interface Memory {
  /** All of it, pages shared with others divided among them (PSS), megabytes. */
  readonly all: number;
  /** Of it what is no file on the disk: the browser's own program, mapped and shared, is left out. */
  readonly own: number;
}

/** Memory of all processes of one browser, megabytes. */
function browserMemory(profile: string): Memory {
  let [all, files] = [0, 0];
  const own = new Set<string>();
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    try {
      const command = readFileSync(`/proc/${pid}/cmdline`, 'utf8');
      const parent = /PPid:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? '';
      if (!command.includes(profile) && !own.has(parent)) continue;
      own.add(pid);
      const told = readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8');
      const kilobytes = (name: string) => Number(new RegExp(`^${name}:\\s*(\\d+)`, 'm').exec(told)?.[1] ?? 0);
      all += kilobytes('Pss') / 1024;
      files += kilobytes('Pss_File') / 1024;
    } catch {
      // Ended meanwhile.
    }
  }
  return { all, own: all - files };
}

const profile = newProfile();
const server = await startServer({ demo: false });
const browser = await openBrowser(profile);
const page = browser.pages()[0] ?? (await browser.newPage());
await page.goto(`${server.address}/#/settings`);
await page.getByText('Opens and counts without network').waitFor({ timeout: 120_000 });
const worker = readdirSync(join(builtUi() as string, 'assets')).find((name) => name.startsWith('analysis.worker'));
const large = await sharp('sample-images/side-tape-inch.jpg').resize(4032, 3024).jpeg({ quality: 92 }).toBuffer();
console.log(
  `${cpus().length} cores, load ${loadavg()[0]?.toFixed(1)} before; photo ${(large.length / 1e6).toFixed(1)} MB, 4032 x 3024`,
);
let most: Memory = { all: 0, own: 0 };
const inMegabytes = ({ all, own }: Memory) => `${all.toFixed(0)} MB (${own.toFixed(0)} without the browser's program)`;
console.log(`memory with the page alone: ${inMegabytes(browserMemory(profile))}`);
const watch = setInterval(() => {
  const now = browserMemory(profile);
  if (now.all > most.all) most = now;
}, 50);
for (const model of ['none', 'auto']) {
  most = { all: 0, own: 0 };
  const times = (await page.evaluate(
    async ([address, photo, options, model, runs]) => {
      const bytes = Uint8Array.from(atob(photo), (c) => c.charCodeAt(0));
      const thread = new Worker(address, { type: 'module' });
      const out: { firstMs: number; ms: number; timings: unknown; plants: number }[] = [];
      for (let run = 0; run < runs; run++) {
        const start = performance.now();
        let firstMs = 0;
        const data = await new Promise<{
          stage: 'first' | 'last';
          outcome: { value: { result: { timingsMs: unknown; count: { value: number } } } };
        }>((resolve) => {
          thread.onmessage = (event) => {
            firstMs ||= performance.now() - start;
            if (event.data.stage === 'last') resolve(event.data);
          };
          thread.postMessage({ id: run, photo: new Blob([bytes]), file: 'large.jpg', options, model, head: null });
        });
        const { timingsMs, count } = data.outcome.value.result;
        out.push({ firstMs, ms: performance.now() - start, timings: timingsMs, plants: count.value });
      }
      thread.terminate();
      return out;
    },
    [`/assets/${worker}`, large.toString('base64'), OPTIONS, model, RUNS] as const,
  )) as { firstMs: number; ms: number; timings: Record<string, number>; plants: number }[];
  const told = (pick: (t: (typeof times)[number]) => number) => {
    const sorted = times.map(pick).sort((a, b) => a - b);
    return `first run ${Math.round(pick(times[0]!))} ms, least ${Math.round(sorted[0]!)} ms, median ${Math.round(sorted[sorted.length >> 1]!)} ms of ${RUNS}`;
  };
  console.log(
    `measuring thread, model ${model}: first number after ${told((t) => t.firstMs)}; count after ${told((t) => t.ms)}; ` +
      `${times[0]!.plants} plants; memory at most ${inMegabytes(most)}; parts of the last ` +
      `${JSON.stringify(times.at(-1)!.timings, (_k, v) => (typeof v === 'number' ? Math.round(v) : v))}`,
  );
}

// The same photo the way a person gives it: chosen on the walk's page, kept, shown and counted there.
await page.goto(server.address);
await sayName(page);
await addField(page, 'Twelve Megapixels');
await startVisit(page);
await setUpPhotos(page);
await page.waitForTimeout(2000);
most = { all: 0, own: 0 };
const file = join(profile, 'large.jpg');
writeFileSync(file, large);
const start = performance.now();
await page.getByLabel('From gallery').setInputFiles(file);
const first = page.getByTestId('first-number').waitFor();
const last = page.getByTestId('photo-count').waitFor();
await Promise.race([first, last]);
const firstMs = performance.now() - start;
await last;
const [lastMs, lastMost] = [performance.now() - start, most];
await page.waitForTimeout(5000);
console.log(
  `the page, from file to screen: first number after ${Math.round(firstMs)} ms, count after ${Math.round(lastMs)} ms; ` +
    `memory at most ${inMegabytes(lastMost)}, five seconds later ${inMegabytes(browserMemory(profile))}`,
);
clearInterval(watch);
console.log(`load ${loadavg()[0]?.toFixed(1)} after`);
await browser.close();
await server.close();
rmSync(profile, { recursive: true, force: true });
