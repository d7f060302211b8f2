import type { InferenceSession } from 'onnxruntime-web';
import type { ModelRunner } from '../core/detector/modelRunner.ts';

/** What is used of onnxruntime-web, whichever of its builds it comes from. */
type Engine = Pick<typeof import('onnxruntime-web'), 'InferenceSession' | 'Tensor'>;

/** Opens a network from its file's bytes. Rejects in plain words when they are no network that the engine reads. */
export type OpenModel = (bytes: Uint8Array) => Promise<ModelRunner>;

const HOW: InferenceSession.SessionOptions = {
  executionProviders: ['wasm'],
  // The exported graph has nothing left to gain: same values, same time, and it opens sooner.
  graphOptimizationLevel: 'disabled',
  // Memory planned ahead for a size that is seen once takes a tenth more of it and no less time.
  enableMemPattern: false,
  logSeverityLevel: 3,
};

/** The smallest network there is, as an ONNX file of 65 bytes: one number, handed on (`b = Identity(a)`, opset 13). */
const SMALLEST_NETWORK = Uint8Array.from(
  '08073a370a100a016112016222084964656e746974791201675a0f0a0161120a0a08080112040a020801620f0a0162120a0a08080112040a02080142040a00100d'.match(
    /../g,
  ) as string[],
  (hex) => Number.parseInt(hex, 16),
);

/**
 * Starts an engine whose settings are made. The engine itself starts with the first network it is given, and that takes
 * ten times as long as to open a network afterwards; so it is given the smallest one. Start it before the network or its
 * photo is there. Rejects with the engine's own words.
 *
 * @param next what a person can do about a file that is no network.
 */
export async function startEngine({ InferenceSession, Tensor }: Engine, next: string): Promise<OpenModel> {
  await (await InferenceSession.create(SMALLEST_NETWORK, HOW)).release();
  return async (bytes) => {
    const session = await InferenceSession.create(bytes, HOW).catch((fault: unknown) => {
      throw new Error(`the plant network could not be opened: ${wordsOf(fault)}; ${next}`);
    });
    const [inputName] = session.inputNames;
    const [outputName] = session.outputNames;
    if (inputName === undefined || outputName === undefined) {
      throw new Error('the plant network has no input or no output; use a model from the models folder');
    }
    return async (strip) => {
      const answer = await session.run({ [inputName]: new Tensor('float32', strip.data, strip.dims) });
      const maps = answer[outputName];
      if (!(maps?.data instanceof Float32Array)) {
        throw new Error('the plant network answered no float maps; use a model from the models folder');
      }
      return { data: maps.data, dims: maps.dims };
    };
  };
}

const wordsOf = (fault: unknown): string => (fault instanceof Error ? fault.message : String(fault));
