import type { ModelTensor } from '../core/detector/modelRunner.ts';

/** What the measuring thread asks of the thread that runs the network: first the network itself, then looks. */
export type NetworkRequest = { readonly model: Uint8Array } | { readonly input: ModelTensor };

export type NetworkReply =
  | { readonly ready: true }
  | { readonly maps: ModelTensor }
  /** In plain words. */
  | { readonly fault: string };
