import type { InferenceSession as Session } from 'onnxruntime-web';
import type { ModelRunner } from '../core/detector/modelRunner.ts';

/** Where the engine's files lie and how it may run. */
export interface BrowserOnnxOptions {
  /** Address of the folder that holds the engine's .wasm and .mjs files. */
  readonly wasmPaths: string;
  /** Threads of the WebAssembly engine; more than one needs a cross-origin isolated page. */
  readonly threads: number;
  /** Whether to try the graphics processor first; its engine file is larger, so it is loaded only then. */
  readonly tryGpu: boolean;
}

export interface BrowserRunner {
  readonly run: ModelRunner;
  /** Which engine answers. */
  readonly engine: 'webgpu' | 'wasm';
}

/**
 * Opens a network in a browser page or worker: WebGPU where asked for and present, else WebAssembly. Throws an Error
 * in plain words when the bytes are not a network that the engine reads.
 */
export async function onnxRunner(bytes: Uint8Array, options: BrowserOnnxOptions): Promise<BrowserRunner> {
  if (options.tryGpu && (await hasGpu())) {
    const engine = await import('onnxruntime-web/webgpu');
    engine.env.wasm.wasmPaths = options.wasmPaths;
    const session = await engine.InferenceSession.create(bytes, { executionProviders: ['webgpu'] }).catch(() => null);
    if (session !== null) return { run: runnerOf(session, engine.Tensor), engine: 'webgpu' };
  }
  const engine = await import('onnxruntime-web/wasm');
  engine.env.wasm.wasmPaths = options.wasmPaths;
  engine.env.wasm.numThreads = globalThis.crossOriginIsolated ? options.threads : 1;
  engine.env.logLevel = 'error';
  // Memory planned ahead for a size that is seen once takes a tenth more of it and no less time.
  const how = { executionProviders: ['wasm'], graphOptimizationLevel: 'disabled', enableMemPattern: false } as const;
  const session = await engine.InferenceSession.create(bytes, how).catch((fault: unknown) => {
    const why = fault instanceof Error ? fault.message : String(fault);
    throw new Error(`the plant network could not be opened: ${why}; load the page again to fetch it anew`);
  });
  return { run: runnerOf(session, engine.Tensor), engine: 'wasm' };
}

type TensorMaker = typeof import('onnxruntime-web').Tensor;

function runnerOf(session: Session, Tensor: TensorMaker): ModelRunner {
  const [inputName] = session.inputNames;
  const [outputName] = session.outputNames;
  if (inputName === undefined || outputName === undefined) throw new Error('the plant network has no input or output');
  return async (strip) => {
    const answer = await session.run({ [inputName]: new Tensor('float32', strip.data, strip.dims) });
    const maps = answer[outputName];
    if (!(maps?.data instanceof Float32Array)) throw new Error('the plant network answered no float maps');
    return { data: maps.data, dims: maps.dims };
  };
}

async function hasGpu(): Promise<boolean> {
  const { gpu } = navigator as Navigator & { readonly gpu?: { requestAdapter(): Promise<unknown> } };
  return gpu !== undefined && (await gpu.requestAdapter().catch(() => null)) !== null;
}
