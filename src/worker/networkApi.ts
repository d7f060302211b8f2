import type { ModelTensor } from '../core/detector/modelRunner.ts';

/** What is asked of the thread that runs the network: to start the engine, then to open the network, then looks. */
export type NetworkRequest =
  | { readonly program: WebAssembly.Module; readonly threads: number }
  | { readonly model: Uint8Array }
  | { readonly input: ModelTensor };

export type NetworkReply =
  | { readonly ready: true }
  | { readonly maps: ModelTensor }
  /** In plain words. */
  | { readonly fault: string };
