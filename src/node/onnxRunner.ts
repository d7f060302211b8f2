import { env, InferenceSession, Tensor } from 'onnxruntime-web';
import type { ModelRunner } from '../core/detector/modelRunner.ts';

/** Options of the WebAssembly engine. */
export interface OnnxOptions {
  /** Threads of the engine; one where shared memory is missing. */
  readonly threads: number;
}

/**
 * Opens a network with onnxruntime-web's WebAssembly engine under Node. Give the file's bytes. Throws an Error in plain
 * words when the bytes are not a network that this engine reads.
 */
export async function onnxRunner(bytes: Uint8Array, { threads }: OnnxOptions): Promise<ModelRunner> {
  env.wasm.numThreads = threads;
  env.logLevel = 'error';
  const session = await InferenceSession.create(bytes, {
    executionProviders: ['wasm'],
    // The exported graph has nothing left to gain: same values, same time, and it opens sooner.
    graphOptimizationLevel: 'disabled',
    // Memory planned ahead for a size that is seen once takes a tenth more of it and no less time.
    enableMemPattern: false,
    logSeverityLevel: 3,
  }).catch((fault: unknown) => {
    const why = fault instanceof Error ? fault.message : String(fault);
    throw new Error(`the plant network could not be opened: ${why}; check that the model file is whole`);
  });
  const [inputName] = session.inputNames;
  const [outputName] = session.outputNames;
  if (inputName === undefined || outputName === undefined) {
    throw new Error('the plant network has no input or no output; use a model from the models folder');
  }
  return async (strip) => {
    const answer = await session.run({ [inputName]: new Tensor('float32', strip.data, strip.dims) });
    const maps = answer[outputName];
    if (maps === undefined || !(maps.data instanceof Float32Array)) {
      throw new Error('the plant network answered no float maps; use a model from the models folder');
    }
    return { data: maps.data, dims: maps.dims };
  };
}
