/**
 * Prints how long the network takes to open and to look at one strip of 3 m, in Node and in headless Chromium, with one
 * thread and with two; and with `--gpu` whether a graphics processor (drawn by the CPU) gives the same marks. In Node
 * also the processor's time, which a busy machine hardly changes.
 *
 *   npx tsx scripts/detectorSpeed.ts [RUNS] [--gpu]
 */
import { fork } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { cpus, loadavg } from 'node:os';
import { performance } from 'node:perf_hooks';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { decodeHeatmaps } from '../src/core/detector/decodeHeatmaps.ts';
import type { DetectorCard } from '../src/core/detector/detectorCard.ts';
import { drawnInput } from './detectorSpeed/drawnInput.ts';
import { openBrowser } from './detectorSpeed/inBrowser.ts';
import { type Measured, type Timed, told } from './detectorSpeed/trial.ts';

/** 3 m x 0.5 m at 2 mm a pixel; and a strip as a count cuts it from a photo, margins and all. */
const STRIPS = [
  { name: '3 m x 0.5 m', widthPx: 1504, heightPx: 256 },
  { name: '3.3 m x 0.84 m', widthPx: 1664, heightPx: 448 },
] as const;

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { gpu: { type: 'boolean', default: false }, inNode: { type: 'string' }, strip: { type: 'string' } },
});
const runs = Number(positionals[0] ?? 5);
const card = JSON.parse(await readFile('models/seedlings.json', 'utf8')) as DetectorCard;

if (values.inNode !== undefined) await oneInNode(Number(values.inNode), STRIPS[Number(values.strip)]!);
else await all();

async function all(): Promise<void> {
  const load = () => loadavg()[0]!.toFixed(1);
  console.log(`${cpus().length} cores (${cpus()[0]!.model}), load ${load()} before, Node ${process.version}`);
  for (const [k, strip] of STRIPS.entries()) {
    for (const threads of [1, 2])
      console.log(`${strip.name}, Node, ${threads} thread(s): ${told(await inNode(threads, k))}`);
  }
  const browser = await openBrowser(false);
  for (const strip of STRIPS) {
    for (const threads of [1, 2]) {
      const measured = await browser.measure({ ...strip, threads, tryGpu: false, runs });
      console.log(`${strip.name}, Chromium, ${threads} thread(s): ${told(measured)}`);
    }
  }
  await browser.close();
  if (values.gpu) await compareEngines();
  console.log(`load ${load()} after`);
}

/** A process of its own for each: the engine keeps the number of threads that it began with. */
function inNode(threads: number, strip: number): Promise<Timed> {
  return new Promise((resolve, reject) => {
    const args = [String(runs), '--inNode', String(threads), '--strip', String(strip)];
    const child = fork(fileURLToPath(import.meta.url), args, { execArgv: process.execArgv });
    child.on('message', (message) => resolve(message as Timed));
    child.on('error', reject);
  });
}

async function oneInNode(threads: number, { widthPx, heightPx }: (typeof STRIPS)[number]): Promise<void> {
  const bytes = await readFile(`models/${card.file}`);
  const cpuMs = (from: NodeJS.CpuUsage) => (process.cpuUsage(from).user + process.cpuUsage(from).system) / 1000;
  const [start, startCpu] = [performance.now(), process.cpuUsage()];
  const { onnxRunner } = await import('../src/node/onnxRunner.ts');
  const run = await onnxRunner(bytes, { threads });
  const [loadMs, loadCpuMs] = [performance.now() - start, cpuMs(startCpu)];
  const runMs: number[] = [];
  const runCpuMs: number[] = [];
  for (let k = 0; k < runs; k++) {
    const input = drawnInput(widthPx, heightPx);
    const [from, fromCpu] = [performance.now(), process.cpuUsage()];
    await run(input);
    runMs.push(performance.now() - from);
    runCpuMs.push(cpuMs(fromCpu));
  }
  process.send?.({ loadMs, runMs, loadCpuMs, runCpuMs }, () => process.exit(0));
}

async function compareEngines(): Promise<void> {
  const browser = await openBrowser(true);
  const trial = { widthPx: 256, heightPx: 128, threads: 1, runs: 1 };
  const [gpu, plain] = [
    await browser.measure({ ...trial, tryGpu: true }),
    await browser.measure({ ...trial, tryGpu: false }),
  ];
  const marks = ({ maps, dims }: Measured) => decodeHeatmaps({ data: Float32Array.from(maps), dims }, card);
  const most = Math.max(...gpu.maps.map((value, k) => Math.abs(value - plain.maps[k]!)));
  console.log(
    `engines ${gpu.engine} and ${plain.engine}: ${marks(gpu).length} and ${marks(plain).length} marks, largest difference of any value ${most.toExponential(1)}`,
  );
  await browser.close();
}
