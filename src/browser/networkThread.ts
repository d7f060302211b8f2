import type { ModelRunner } from '../core/detector/modelRunner.ts';
import type { NetworkReply, NetworkRequest } from '../worker/networkApi.ts';

export interface NetworkThread {
  /** Hands the input's values over: they are gone for the caller. */
  readonly run: ModelRunner;
  /** Ends the thread, which gives its memory back. */
  readonly close: () => void;
}

/** Opens a network in a thread of its own. Rejects in plain words where the engine cannot. One look at a time. */
export async function networkThread(model: Uint8Array<ArrayBuffer>): Promise<NetworkThread> {
  const thread = new Worker(new URL('./network.worker.ts', import.meta.url), { type: 'module' });
  const ask = (request: NetworkRequest, hand: Transferable[]) =>
    new Promise<NetworkReply>((resolve, reject) => {
      thread.onmessage = ({ data }: MessageEvent<NetworkReply>) =>
        'fault' in data ? reject(new Error(data.fault)) : resolve(data);
      thread.onerror = ({ message }) => reject(new Error(`the plant network stopped (${message || 'out of memory'})`));
      thread.postMessage(request, hand);
    });
  const close = () => thread.terminate();
  try {
    await ask({ model }, [model.buffer]);
  } catch (error) {
    close();
    throw error;
  }
  const run: ModelRunner = async (input) => {
    const reply = await ask({ input }, [input.data.buffer as ArrayBuffer]);
    if (!('maps' in reply)) throw new Error('the plant network answered no maps');
    return reply.maps;
  };
  return { run, close };
}
