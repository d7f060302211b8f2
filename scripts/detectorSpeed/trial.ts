export interface Trial {
  readonly threads: number;
  readonly tryGpu: boolean;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly runs: number;
}

export interface Measured {
  readonly engine: string;
  /** From the file's bytes in memory to a network that can be asked; the engine is fetched and compiled meanwhile. */
  readonly loadMs: number;
  readonly runMs: readonly number[];
  readonly maps: readonly number[];
  readonly dims: readonly number[];
}

/** Times by the clock, and where they are known of the processor, milliseconds. */
export interface Timed {
  readonly loadMs: number;
  readonly runMs: readonly number[];
  readonly loadCpuMs?: number;
  readonly runCpuMs?: readonly number[];
}

/** `load 812 ms; first 640, least 520, median 533 ms of 5; processor: load 790, least 510 ms`. */
export function told({ loadMs, runMs, loadCpuMs, runCpuMs }: Timed): string {
  const sorted = [...runMs].sort((a, b) => a - b);
  const [first, least, middle] = [runMs[0]!, sorted[0]!, sorted[sorted.length >> 1]!].map(Math.round);
  const cpu =
    loadCpuMs === undefined || runCpuMs === undefined
      ? ''
      : `; processor: load ${Math.round(loadCpuMs)}, least ${Math.round(Math.min(...runCpuMs))} ms`;
  return `load ${Math.round(loadMs)} ms; first ${first}, least ${least}, median ${middle} ms of ${runMs.length}${cpu}`;
}
