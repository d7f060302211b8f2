import type { ModelRunner } from '../core/detector/modelRunner.ts';
import type { NetworkReply, NetworkRequest } from '../worker/networkApi.ts';
import { onnxRunner } from './onnxRunner.ts';

/**
 * The thread that runs the network. It lives for one photo: the memory of the engine (some 200 MB) can be given back only
 * by ending its thread.
 */
declare const self: DedicatedWorkerGlobalScope;

const MOST_THREADS = 4;

let runner: Promise<ModelRunner> | null = null;

self.onmessage = async ({ data }: MessageEvent<NetworkRequest>) => {
  const send = (reply: NetworkReply, hand: Transferable[] = []) => self.postMessage(reply, hand);
  try {
    if ('model' in data) {
      const threads = Math.min(MOST_THREADS, navigator.hardwareConcurrency);
      const options = { wasmPaths: '/engine/', threads, tryGpu: false };
      runner = onnxRunner(data.model, options).then(({ run }) => run);
      await runner;
      return send({ ready: true });
    }
    if (runner === null) throw new Error('the plant network was asked before it was opened');
    const maps = await (await runner)(data.input);
    // A copy of its own: the engine's answer may lie in memory that cannot be handed over.
    const own = maps.data.slice();
    send({ maps: { data: own, dims: maps.dims } }, [own.buffer]);
  } catch (error) {
    send({ fault: error instanceof Error ? error.message : String(error) });
  }
};
