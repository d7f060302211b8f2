import start from './ort-wasm-simd-threaded.mjs';

/**
 * Starts the engine of the same folder from a program that was compiled before, in another thread, instead of fetching and
 * compiling it once more. Served as /engine/givenProgram.mjs; `onnxEngine` puts the program into `engineProgram`.
 */
export default (settings) =>
  start({
    ...settings,
    instantiateWasm: (imports, done) => {
      // At once, so that what is thrown for want of memory is thrown to whoever waits for the start.
      const instance = new WebAssembly.Instance(globalThis.engineProgram, imports);
      done(instance, globalThis.engineProgram);
      return instance.exports;
    },
  });
