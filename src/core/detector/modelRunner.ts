/** A float32 tensor: values in row-major order, sides from the slowest to the fastest. */
export interface ModelTensor {
  readonly data: Float32Array;
  readonly dims: readonly number[];
}

/**
 * Runs the network once. Adapters in `src/node` and `src/browser` implement it with an inference engine; tests pass a
 * plain function. Rejects with a plain-words Error when the engine fails.
 */
export type ModelRunner = (strip: ModelTensor) => Promise<ModelTensor>;
