import { onnxRunner } from '../../src/browser/onnxRunner.ts';
import type { ModelTensor } from '../../src/core/detector/modelRunner.ts';
import { drawnInput } from './drawnInput.ts';
import type { Measured, Trial } from './trial.ts';

/** Runs one trial in a page; called from outside. */
async function measure({ threads, tryGpu, widthPx, heightPx, runs }: Trial): Promise<Measured> {
  const bytes = new Uint8Array(await (await fetch('/model.onnx')).arrayBuffer());
  const start = performance.now();
  const { run, engine } = await onnxRunner(bytes, { wasmPaths: '/engine/', threads, tryGpu });
  const loadMs = performance.now() - start;
  const runMs: number[] = [];
  let maps: ModelTensor | null = null;
  for (let k = 0; k < runs; k++) {
    const input = drawnInput(widthPx, heightPx);
    const from = performance.now();
    maps = await run(input);
    runMs.push(performance.now() - from);
  }
  return { engine, loadMs, runMs, maps: [...maps!.data], dims: [...maps!.dims] };
}

(globalThis as unknown as { measure: typeof measure }).measure = measure;
