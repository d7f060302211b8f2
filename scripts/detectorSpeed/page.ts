import { networkThread } from '../../src/browser/networkThread.ts';
import type { ModelRunner, ModelTensor } from '../../src/core/detector/modelRunner.ts';
import { drawnInput } from './drawnInput.ts';
import type { Measured, Trial } from './trial.ts';

const PROGRAM = '/engine/ort-wasm-simd-threaded.wasm';

/** The page's clock, read again and again. */
function clock(): () => number {
  let from = performance.now();
  return () => {
    const ms = performance.now() - from;
    from += ms;
    return ms;
  };
}

/** The engine's program, kept between trials of one page as the measuring thread keeps it between photos. */
let program: WebAssembly.Module | null = null;

/** Runs one trial in a page; called from outside. */
async function measure(trial: Trial): Promise<Measured> {
  const bytes = new Uint8Array(await (await fetch('/model.onnx')).arrayBuffer());
  return trial.engine === 'webgpu' ? byGpu(bytes, trial) : byThreads(bytes, trial.engine, trial);
}

async function byThreads(bytes: Uint8Array<ArrayBuffer>, threads: number, trial: Trial): Promise<Measured> {
  const lap = clock();
  program ??= await WebAssembly.compileStreaming(fetch(PROGRAM));
  const compileMs = lap();
  const thread = await networkThread(program, threads);
  const startMs = lap();
  const run = await thread.open(bytes);
  const openMs = lap();
  const looks = await looked(run, trial);
  thread.close();
  return { compileMs, startMs, openMs, ...looks, shaders: 0 };
}

/** As no part of the product does: to show what a graphics processor would cost. */
async function byGpu(bytes: Uint8Array, trial: Trial): Promise<Measured> {
  let shaders = 0;
  const { prototype } = (globalThis as unknown as { GPUDevice: { prototype: Record<string, unknown> } }).GPUDevice;
  const create = prototype.createShaderModule as (...about: unknown[]) => unknown;
  prototype.createShaderModule = function (...about: unknown[]) {
    shaders++;
    return create.apply(this, about);
  };
  const { env, InferenceSession, Tensor } = await import('onnxruntime-web/webgpu');
  env.wasm.wasmPaths = '/engine/';
  env.wasm.numThreads = 1;
  const lap = clock();
  // Bytes that are no network: the engine starts, and then refuses them.
  await InferenceSession.create(new Uint8Array([0]), { executionProviders: ['webgpu'] }).catch(() => undefined);
  const startMs = lap();
  const session = await InferenceSession.create(bytes, { executionProviders: ['webgpu'] });
  const openMs = lap();
  const looks = await looked(async ({ data, dims }) => {
    const { maps } = await session.run({ strip: new Tensor('float32', data, dims) });
    return { data: maps!.data as Float32Array, dims: maps!.dims };
  }, trial);
  return { startMs, openMs, ...looks, shaders };
}

async function looked(run: ModelRunner, { widthPx, heightPx, runs }: Trial) {
  const runMs: number[] = [];
  let maps: ModelTensor | null = null;
  for (let k = 0; k < runs; k++) {
    const input = drawnInput(widthPx, heightPx);
    const lap = clock();
    maps = await run(input);
    runMs.push(lap());
  }
  return { runMs, maps: [...maps!.data], dims: [...maps!.dims] };
}

(globalThis as unknown as { measure: typeof measure }).measure = measure;
