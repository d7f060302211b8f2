/**
 * Prints how long a 12-megapixel photo takes in headless Chromium until its first quick number and its count are there,
 * without and with the network, in the measuring threads alone and on the page, the CPU time that these threads took for
 * the first number (what is left to say on a machine that others use too), and the memory that the browser's processes
 * hold at most. Memory is watched in runs of its own: looking at it takes a good part of a core. Needs the built page.
 * Each is measured twice: the photo is there as the threads start, or as the page stands; and some seconds later, which
 * is sooner than a person has laid a tape down.
 * The photo is a rendered sample image made larger, so the file is of a phone's size; its content is not sharper for it.
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
const PAUSE_MS = 6000;
const PAUSES = [0, PAUSE_MS];
const whenSaid = (pauseMs: number) => (pauseMs === 0 ? 'at once' : `after ${pauseMs / 1000} s`);
const OPTIONS = {
  reference: { kind: 'tape', graduations: 'in' },
  cameraHeight: { heightM: 1.5, sdM: 0.06, given: true },
  gravity: null,
  stretch: { fromM: 0, toM: 3.048 },
  rowWidthM: 0.762,
  seedSpacingM: 0.1,
  gapM: 0.3,
};

const NOTHING: Memory = { all: 0, own: 0 };
interface Memory {
  /** All of it, pages shared with others divided among them (PSS), megabytes. */
  readonly all: number;
  /** Of it what is no file on the disk: the browser's own program, mapped and shared, is left out. */
  readonly own: number;
}

/** What `read` makes of each process of one browser; those that end meanwhile are left out. */
function ofProcesses<T>(profile: string, read: (pid: string) => T): T[] {
  const own = new Set<string>();
  return readdirSync('/proc').flatMap((pid) => {
    if (!/^\d+$/.test(pid)) return [];
    try {
      const command = readFileSync(`/proc/${pid}/cmdline`, 'utf8');
      const parent = /PPid:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? '';
      if (!command.includes(profile) && !own.has(parent)) return [];
      own.add(pid);
      return [read(pid)];
    } catch {
      return [];
    }
  });
}

/** CPU time of each of the page's worker threads that run now, milliseconds. */
function threadsCpuMs(profile: string): ReadonlyMap<string, number> {
  const all = ofProcesses(profile, (pid) =>
    readdirSync(`/proc/${pid}/task`).flatMap((task) => {
      const of = `/proc/${pid}/task/${task}`;
      if (!readFileSync(`${of}/comm`, 'utf8').startsWith('DedicatedWorker')) return [];
      return [[task, Number(readFileSync(`${of}/schedstat`, 'utf8').split(' ')[0]) / 1e6] as const];
    }),
  );
  return new Map(all.flat());
}

/** Memory of all processes of one browser, megabytes. */
function browserMemory(profile: string): Memory {
  let [all, files] = [0, 0];
  ofProcesses(profile, (pid) => {
    const told = readFileSync(`/proc/${pid}/smaps_rollup`, 'utf8');
    const kilobytes = (name: string) => Number(new RegExp(`^${name}:\\s*(\\d+)`, 'm').exec(told)?.[1] ?? 0);
    all += kilobytes('Pss') / 1024;
    files += kilobytes('Pss_File') / 1024;
  });
  return { all, own: all - files };
}

const profile = newProfile();
const large = await sharp('sample-images/side-tape-inch.jpg').resize(4032, 3024).jpeg({ quality: 92 }).toBuffer();
const server = await startServer({ demo: false });
const browser = await openBrowser(profile);
await browser.route('**/large.jpg', (route) => route.fulfill({ body: large, contentType: 'image/jpeg' }));
const page = browser.pages()[0] ?? (await browser.newPage());
await page.goto(`${server.address}/#/settings`);
await page.getByText('Opens and counts without network').waitFor({ timeout: 240_000 });
const worker = readdirSync(join(builtUi() as string, 'assets')).find((name) => name.startsWith('analysis.worker'));
const load = () => `load ${loadavg()[0]?.toFixed(1)}`;
console.log(
  `${cpus().length} cores, ${load()} before; photo ${(large.length / 1e6).toFixed(1)} MB, 4032 x 3024, ${RUNS} runs`,
);
const inMegabytes = ({ all, own }: Memory) => `${all.toFixed(0)} MB (${own.toFixed(0)} without the browser's program)`;
console.log(`memory with the page alone: ${inMegabytes(browserMemory(profile))}`);
let cpuAtFirst: ReadonlyMap<string, number> = new Map();
await page.exposeFunction('tellFirst', () => {
  cpuAtFirst = threadsCpuMs(profile);
});
const sorted = (values: readonly number[]) => [...values].sort((a, b) => a - b);
const told = (values: readonly number[]) =>
  `first ${Math.round(values[0]!)}, least ${Math.round(sorted(values)[0]!)}, median ${Math.round(sorted(values)[values.length >> 1]!)}`;

/** Set by a page that shows a first number: until then nothing of the network is there. */
let isFirstShown = false;
await page.exposeFunction('tellShown', () => {
  isFirstShown = true;
});

/** Runs something with an eye on the memory: at most altogether, and at most until a page shows a first number. */
async function watched(run: () => Promise<void>): Promise<{ readonly most: Memory; readonly untilFirst: Memory }> {
  let [most, untilFirst]: Memory[] = [NOTHING, NOTHING];
  const watch = setInterval(() => {
    const now = browserMemory(profile);
    if (now.all > most!.all) most = now;
    if (!isFirstShown && now.all > untilFirst!.all) untilFirst = now;
  }, 100);
  await run();
  clearInterval(watch);
  return { most: most!, untilFirst: untilFirst! };
}

/** Ends the measuring threads that are there. */
async function stop(): Promise<void> {
  await page.evaluate(() => {
    const own = globalThis as typeof globalThis & { thread?: Worker };
    own.thread?.terminate();
    delete own.thread;
  });
  await page.waitForTimeout(1000);
}

/** One photo in the measuring threads that are there, else in new ones, which then have the pause to themselves. */
async function measure(model: string, pauseMs = 0) {
  if (pauseMs > 0) {
    await page.evaluate((address) => {
      const own = globalThis as typeof globalThis & { thread?: Worker };
      own.thread ??= new Worker(address, { type: 'module' });
    }, `/assets/${worker}`);
    await page.waitForTimeout(pauseMs);
  }
  const before = threadsCpuMs(profile);
  const one = await page.evaluate(
    async ([address, options, model]) => {
      const own = globalThis as typeof globalThis & { photo?: Blob; thread?: Worker; tellFirst: () => void };
      // As a file that was chosen: handed over as text it would be held several times, by the page and what drives it.
      own.photo ??= await (await fetch('/large.jpg')).blob();
      own.thread ??= new Worker(address, { type: 'module' });
      const { thread, photo } = own;
      const start = performance.now();
      let firstMs = 0;
      type Reply = { stage: string; outcome: { value: { result: { timingsMs: unknown; count: { value: number } } } } };
      const { outcome } = await new Promise<Reply>((resolve) => {
        thread.onmessage = ({ data }: MessageEvent<Reply>) => {
          if (firstMs === 0) own.tellFirst();
          firstMs ||= performance.now() - start;
          if (data.stage === 'last') resolve(data);
        };
        thread.postMessage({ id: 1, photo, file: 'large.jpg', options, model, head: null });
      });
      const { timingsMs, count } = outcome.value.result;
      return { firstMs, ms: performance.now() - start, timings: timingsMs, plants: count.value };
    },
    [`/assets/${worker}`, OPTIONS, model] as const,
  );
  const cpuMs = [...cpuAtFirst].reduce((sum, [task, ms]) => sum + ms - (before.get(task) ?? 0), 0);
  return { ...one, cpuMs };
}

for (const model of ['none', 'auto']) {
  for (const pauseMs of PAUSES) {
    const runs: Awaited<ReturnType<typeof measure>>[] = [];
    for (let run = 0; run < RUNS; run++) {
      await stop();
      runs.push(await measure(model, pauseMs));
    }
    console.log(
      `measuring threads, model ${model}, ${whenSaid(pauseMs)}: first number after ${told(runs.map((one) => one.firstMs))} ms ` +
        `(CPU of the threads ${told(runs.map((one) => one.cpuMs))} ms); count after ${told(runs.map((one) => one.ms))} ms; ` +
        `${runs[0]!.plants} plants; parts of the last ` +
        `${JSON.stringify(runs.at(-1)!.timings, (_k, v) => (typeof v === 'number' ? Math.round(v) : v))}; ${load()}`,
    );
  }
  await stop();
  const { most } = await watched(async () => {
    for (let run = 0; run < 3; run++) await measure(model, run === 0 ? PAUSE_MS : 0);
  });
  await stop();
  console.log(`three photos one after another, model ${model}: memory at most ${inMegabytes(most)}`);
}

// The same photo the way a person gives it: chosen on the walk's page, kept, shown and counted there.
await page.goto(server.address);
await sayName(page);
const file = join(profile, 'large.jpg');
writeFileSync(file, large);
/**
 * From the moment the page gets the file to the frames that show the first number and the count, milliseconds by the
 * page's own clock: handing the file over and asking from outside whether a number is there take time of their own.
 */
async function onThePage(field: string, pauseMs: number): Promise<readonly [number, number]> {
  await page.goto(`${server.address}/#/`);
  await addField(page, field);
  await startVisit(page);
  await setUpPhotos(page);
  // What was made ready while the test filled in the page is gone: the page opens anew.
  await page.reload();
  await page.getByLabel('From gallery').waitFor({ state: 'attached' });
  await page.waitForTimeout(pauseMs);
  await page.evaluate(() => {
    const own = globalThis as typeof globalThis & {
      shownMs?: Promise<readonly [number, number]>;
      tellShown: () => void;
    };
    own.shownMs = new Promise((resolve) => {
      let [startMs, firstMs] = [0, 0];
      const input = [...document.querySelectorAll('label')].find((label) => label.textContent === 'From gallery');
      input?.addEventListener(
        'change',
        () => {
          startMs = performance.now();
        },
        true,
      );
      const watch = new MutationObserver(() => {
        const isLast = document.querySelector('[data-testid=photo-count]') !== null;
        if (!isLast && (firstMs !== 0 || document.querySelector('[data-testid=first-number]') === null)) return;
        own.tellShown();
        firstMs ||= Number.NaN;
        if (isLast) watch.disconnect();
        // A task right after a frame's callbacks runs when that frame is made.
        requestAnimationFrame(() =>
          setTimeout(() => {
            const ms = performance.now() - startMs;
            if (Number.isNaN(firstMs)) firstMs = ms;
            if (isLast) resolve([firstMs, ms]);
          }),
        );
      });
      watch.observe(document, { childList: true, subtree: true });
    });
  });
  isFirstShown = false;
  await page.getByLabel('From gallery').setInputFiles(file);
  return page.evaluate(() => (globalThis as typeof globalThis & { shownMs?: Promise<[number, number]> }).shownMs!);
}
for (const pauseMs of PAUSES) {
  const shown: (readonly [number, number])[] = [];
  const field = `Twelve Megapixels ${whenSaid(pauseMs)}`;
  for (let run = 0; run < RUNS; run++) shown.push(await onThePage(`${field} ${run + 1}`, pauseMs));
  console.log(
    `the page, photo chosen ${whenSaid(pauseMs)}, from file to screen: first number after ` +
      `${told(shown.map(([ms]) => ms))} ms, count after ${told(shown.map(([, ms]) => ms))} ms; ${load()}`,
  );
}
const { most, untilFirst } = await watched(async () => void (await onThePage('Watched', PAUSE_MS)));
await page.waitForTimeout(5000);
console.log(
  `the page: memory at most ${inMegabytes(untilFirst)} until the first number, ${inMegabytes(most)} until the count, five seconds later ${inMegabytes(browserMemory(profile))}`,
);
await browser.close();
await server.close();
rmSync(profile, { recursive: true, force: true });
