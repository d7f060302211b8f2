import * as engine from 'onnxruntime-web/wasm';
import { type OpenModel, startEngine } from '../worker/startEngine.ts';

/** How the engine may run in this thread. */
export interface BrowserOnnxOptions {
  /** The engine's program, compiled: threads that come one after another share it and what was made faster of it. */
  readonly program: WebAssembly.Module;
  /** Threads; more than one needs a cross-origin isolated page. */
  readonly threads: number;
}

/**
 * Starts onnxruntime-web's WebAssembly engine in a browser's worker; its files lie in /engine. Once a worker. Rejects with
 * the engine's own words.
 */
export function onnxEngine({ program, threads }: BrowserOnnxOptions): Promise<OpenModel> {
  // Read by givenProgram.mjs, which the engine's package imports by its address.
  Object.assign(globalThis, { engineProgram: program });
  const folder = new URL('/engine/', location.href);
  engine.env.wasm.wasmPaths = {
    mjs: new URL('givenProgram.mjs', folder).href,
    wasm: new URL('ort-wasm-simd-threaded.wasm', folder).href,
  };
  engine.env.wasm.numThreads = globalThis.crossOriginIsolated ? threads : 1;
  engine.env.logLevel = 'error';
  return startEngine(engine, 'load the page again to fetch it anew');
}
