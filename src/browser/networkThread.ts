import type { ModelRunner } from '../core/detector/modelRunner.ts';
import type { NetworkReply, NetworkRequest } from '../worker/networkApi.ts';

/** A thread whose engine has started. */
export interface NetworkThread {
  /** Opens a network, once; its bytes are handed over. Rejects in plain words where it is none. */
  readonly open: (model: Uint8Array<ArrayBuffer>) => Promise<ModelRunner>;
  /** Ends the thread, which gives its memory back. */
  readonly close: () => void;
}

/**
 * Starts the engine in a thread of its own. Rejects in plain words where it cannot. One request at a time; a look hands its
 * input's values over: they are gone for the caller.
 */
export async function networkThread(program: WebAssembly.Module, threads: number): Promise<NetworkThread> {
  const thread = new Worker(new URL('./network.worker.ts', import.meta.url), { type: 'module' });
  const ask = (request: NetworkRequest, hand: Transferable[]) =>
    new Promise<NetworkReply>((resolve, reject) => {
      thread.onmessage = ({ data }: MessageEvent<NetworkReply>) =>
        'fault' in data ? reject(new Error(data.fault)) : resolve(data);
      thread.onerror = ({ message }) => reject(new Error(`the plant network stopped (${message || 'out of memory'})`));
      thread.postMessage(request, hand);
    });
  const close = () => thread.terminate();
  await ask({ program, threads }, []).catch((error: unknown) => {
    close();
    throw error;
  });
  const run: ModelRunner = async (input) => {
    const reply = await ask({ input }, [input.data.buffer as ArrayBuffer]);
    if (!('maps' in reply)) throw new Error('the plant network answered no maps');
    return reply.maps;
  };
  const open = async (model: Uint8Array<ArrayBuffer>) => {
    await ask({ model }, [model.buffer]);
    return run;
  };
  return { open, close };
}
