import * as engine from 'onnxruntime-web';
import type { ModelRunner } from '../core/detector/modelRunner.ts';
import { type OpenModel, startEngine } from '../worker/startEngine.ts';

/** Options of the WebAssembly engine. */
export interface OnnxOptions {
  /** Threads of the engine; one where shared memory is missing. The first start in a process decides. */
  readonly threads: number;
}

/** Starts onnxruntime-web's WebAssembly engine under Node; see `startEngine` for what that saves. */
export function startOnnx({ threads }: OnnxOptions): Promise<OpenModel> {
  engine.env.wasm.numThreads = threads;
  engine.env.logLevel = 'error';
  return startEngine(engine, 'check that the model file is whole');
}

/**
 * Starts the engine and opens a network with it. Give the file's bytes. Throws an Error in plain words when the bytes are
 * not a network that this engine reads.
 */
export async function onnxRunner(bytes: Uint8Array, options: OnnxOptions): Promise<ModelRunner> {
  return (await startOnnx(options))(bytes);
}
