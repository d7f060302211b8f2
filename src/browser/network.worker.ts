import type { ModelRunner } from '../core/detector/modelRunner.ts';
import type { NetworkReply, NetworkRequest } from '../worker/networkApi.ts';
import type { OpenModel } from '../worker/startEngine.ts';
import { onnxEngine } from './onnxEngine.ts';

/**
 * The thread that runs the network. It lives for one photo: the memory of the engine (some 200 MB) can be given back only
 * by ending its thread.
 */
declare const self: DedicatedWorkerGlobalScope;

let open: OpenModel | null = null;
let look: ModelRunner | null = null;

self.onmessage = async ({ data }: MessageEvent<NetworkRequest>) => {
  const send = (reply: NetworkReply, hand: Transferable[] = []) => self.postMessage(reply, hand);
  try {
    if ('program' in data) {
      open = await onnxEngine(data);
      return send({ ready: true });
    }
    if ('model' in data) {
      if (open === null) throw new Error('the plant network was opened before its engine');
      look = await open(data.model);
      return send({ ready: true });
    }
    if (look === null) throw new Error('the plant network was asked before it was opened');
    const maps = await look(data.input);
    // A copy of its own: the engine's answer may lie in memory that cannot be handed over.
    const own = maps.data.slice();
    send({ maps: { data: own, dims: maps.dims } }, [own.buffer]);
  } catch (error) {
    send({ fault: error instanceof Error ? error.message : String(error) });
  }
};
