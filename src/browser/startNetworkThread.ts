import { fetchKept } from './fetchKept.ts';
import { type NetworkThread, networkThread } from './networkThread.ts';

const MOST_THREADS = 4;

/** The engine's program, compiled once for all threads that this one starts. */
let program: Promise<WebAssembly.Module> | null = null;

/** Starts a thread with the engine that came with the page. Rejects in plain words. */
export async function startNetworkThread(): Promise<NetworkThread> {
  program ??= compiled();
  const known = program;
  known.catch(() => {
    if (program === known) program = null;
  });
  return networkThread(await known, Math.min(MOST_THREADS, navigator.hardwareConcurrency));
}

async function compiled(): Promise<WebAssembly.Module> {
  return WebAssembly.compileStreaming(fetchKept('/engine/ort-wasm-simd-threaded.wasm'));
}
