/**
 * Prints how long the network's engine takes to start, the network to open, and a strip of 3 m to be looked at, in Node
 * and in headless Chromium, with one thread and with two. Each is begun anew several times and the least of each time is
 * printed: what is left to say on a machine that others use too; in Node also the processor's time. In Chromium each
 * trial is followed by another in the same page, with the program that was compiled before, as one photo after another.
 * With `--gpu` also what a graphics processor, drawn by the CPU here, costs and whether it gives the same marks.
 *
 *   npx tsx scripts/detectorSpeed.ts [TRIALS] [--gpu]
 */
import { fork } from 'node:child_process';
import { readFile, stat } from 'node:fs/promises';
import { cpus, loadavg } from 'node:os';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { gzipSync } from 'node:zlib';
import { decodeHeatmaps } from '../src/core/detector/decodeHeatmaps.ts';
import type { DetectorCard } from '../src/core/detector/detectorCard.ts';
import { drawnInput } from './detectorSpeed/drawnInput.ts';
import { openBrowser } from './detectorSpeed/inBrowser.ts';
import { leastOf, type Measured, type Timed, told } from './detectorSpeed/trial.ts';

/** 3 m x 0.5 m at 2 mm a pixel; and a strip as a count cuts it from a photo, margins and all. */
const STRIPS = [
  { name: '3 m x 0.5 m', widthPx: 3008, heightPx: 512 },
  { name: '3.3 m x 0.84 m', widthPx: 3328, heightPx: 896 },
] as const;
const RUNS = 5;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { gpu: { type: 'boolean', default: false }, inNode: { type: 'string' }, strip: { type: 'string' } },
});
const times = Array.from({ length: Number(positionals[0] ?? 3) });
const card = JSON.parse(await readFile('models/seedlings.json', 'utf8')) as DetectorCard;

if (values.inNode !== undefined) await oneInNode(Number(values.inNode), STRIPS[Number(values.strip)]!);
else await all();

async function all(): Promise<void> {
  const load = () => loadavg()[0]!.toFixed(1);
  console.log(
    `${cpus().length} cores (${cpus()[0]!.model}), load ${load()} before, Node ${process.version}, least of ${times.length}`,
  );
  for (const [k, { name }] of STRIPS.entries()) {
    for (const threads of [1, 2]) {
      const trials: Timed[] = [];
      for (const _ of times) trials.push(await inNode(threads, k));
      console.log(`${name}, Node, ${threads} thread(s): ${told(leastOf(trials))}`);
    }
  }
  const browser = await openBrowser(false);
  for (const { name, ...strip } of STRIPS) {
    for (const threads of [1, 2]) {
      const trial = { ...strip, engine: threads, runs: RUNS };
      const trials: Measured[][] = [];
      for (const _ of times) trials.push(await browser.measure([trial, trial]));
      for (const [k, which] of ['', ', again'].entries()) {
        console.log(
          `${name}, Chromium, ${threads} thread(s)${which}: ${told(leastOf(trials.map((pair) => pair[k]!)))}`,
        );
      }
    }
  }
  await browser.close();
  if (values.gpu) await compareEngines();
  console.log(`load ${load()} after`);
}

/** A process of its own for each: the engine keeps the number of threads that it began with. */
function inNode(threads: number, strip: number): Promise<Timed> {
  return new Promise((resolve, reject) => {
    const args = ['--inNode', String(threads), '--strip', String(strip)];
    const child = fork(fileURLToPath(import.meta.url), args, { execArgv: process.execArgv });
    child.on('message', (message) => resolve(message as Timed));
    child.on('error', reject);
  });
}

async function oneInNode(threads: number, { widthPx, heightPx }: (typeof STRIPS)[number]): Promise<void> {
  const bytes = await readFile(`models/${card.file}`);
  let [from, fromCpu] = [performance.now(), process.cpuUsage()];
  const lap = () => {
    const { user, system } = process.cpuUsage(fromCpu);
    const taken = [performance.now() - from, (user + system) / 1000] as const;
    [from, fromCpu] = [performance.now(), process.cpuUsage()];
    return taken;
  };
  const { startOnnx } = await import('../src/node/onnxRunner.ts');
  const open = await startOnnx({ threads });
  const [startMs, start] = lap();
  const run = await open(bytes);
  const [openMs, opened] = lap();
  const looks: (readonly [number, number])[] = [];
  for (let k = 0; k < RUNS; k++) {
    const input = drawnInput(widthPx, heightPx);
    lap();
    await run(input);
    looks.push(lap());
  }
  const cpuMs = { start, open: opened, run: looks.map(([, cpu]) => cpu) };
  const timed: Timed = { startMs, openMs, runMs: looks.map(([ms]) => ms), cpuMs };
  process.send?.(timed, () => process.exit(0));
}

async function compareEngines(): Promise<void> {
  const folder = 'node_modules/onnxruntime-web/dist/ort-wasm-simd-threaded';
  for (const file of [`${folder}.wasm`, `${folder}.asyncify.wasm`]) {
    const [{ size }, packed] = [await stat(file), gzipSync(await readFile(file)).length];
    console.log(`${file}: ${(size / 1e6).toFixed(1)} MB, ${(packed / 1e6).toFixed(1)} MB packed`);
  }
  const browser = await openBrowser(true);
  const trial = { widthPx: 256, heightPx: 128, runs: 2 };
  const [gpu] = await browser.measure([{ ...trial, engine: 'webgpu' }]);
  const [plain] = await browser.measure([{ ...trial, engine: 1 }]);
  const marks = ({ maps, dims }: Measured) => decodeHeatmaps({ data: Float32Array.from(maps), dims }, card).length;
  const most = Math.max(...gpu!.maps.map((value, k) => Math.abs(value - plain!.maps[k]!)));
  for (const [name, one] of [
    ['webgpu', gpu!],
    ['WebAssembly', plain!],
  ] as const) {
    console.log(`256 x 128 px by ${name}: ${told(one)}; ${one.shaders} shaders; ${marks(one)} marks`);
  }
  console.log(`largest difference of any value ${most.toExponential(1)}`);
  await browser.close();
}
