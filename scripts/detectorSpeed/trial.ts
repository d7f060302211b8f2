export interface Trial {
  /** Threads of WebAssembly, or the graphics processor. */
  readonly engine: number | 'webgpu';
  readonly widthPx: number;
  readonly heightPx: number;
  readonly runs: number;
}

/** Times by the clock, and where they are known of the processor, milliseconds. */
export interface Timed {
  /** The engine's program fetched from this machine and compiled, where that is a step of its own. */
  readonly compileMs?: number;
  /** The engine started, in a thread of its own in the browser; in Node the program is read and compiled meanwhile. */
  readonly startMs: number;
  /** Opening: from the network's bytes in memory, with the engine started, to a network that can be asked. */
  readonly openMs: number;
  readonly runMs: readonly number[];
  readonly cpuMs?: { readonly start: number; readonly open: number; readonly run: readonly number[] };
}

export interface Measured extends Timed {
  readonly maps: readonly number[];
  readonly dims: readonly number[];
  /** Programs that a graphics processor was given to compile. */
  readonly shaders: number;
}

/**
 * `engine: compiled 210, started 480 ms; network opened in 55 ms; looks: first 640, least 520, median 533 ms of 5;
 * processor: start 520, open 60, least look 510 ms`.
 */
export function told({ compileMs, startMs, openMs, runMs, cpuMs }: Timed): string {
  const [first, least, middle] = [runMs[0]!, sorted(runMs)[0]!, sorted(runMs)[runMs.length >> 1]!].map(Math.round);
  const compiled = compileMs === undefined ? '' : `compiled ${Math.round(compileMs)}, `;
  const cpu =
    cpuMs === undefined
      ? ''
      : `; processor: start ${Math.round(cpuMs.start)}, open ${Math.round(cpuMs.open)}, ` +
        `least look ${Math.round(Math.min(...cpuMs.run))} ms`;
  return (
    `engine: ${compiled}started ${Math.round(startMs)} ms; network opened in ${Math.round(openMs)} ms; ` +
    `looks: first ${first}, least ${least}, median ${middle} ms of ${runMs.length}${cpu}`
  );
}

/** The least of each time over trials of the same: what the machine can do while nobody else uses it. */
export function leastOf(trials: readonly Timed[]): Timed {
  const least = (pick: (one: Timed) => number) => Math.min(...trials.map(pick));
  const runMs = trials[0]!.runMs.map((_, k) => least((one) => one.runMs[k]!));
  const [{ compileMs, cpuMs }] = trials as [Timed];
  return {
    ...(compileMs === undefined ? {} : { compileMs: least((one) => one.compileMs!) }),
    startMs: least((one) => one.startMs),
    openMs: least((one) => one.openMs),
    runMs,
    ...(cpuMs === undefined
      ? {}
      : {
          cpuMs: {
            start: least((one) => one.cpuMs!.start),
            open: least((one) => one.cpuMs!.open),
            run: cpuMs.run.map((_, k) => least((one) => one.cpuMs!.run[k]!)),
          },
        }),
  };
}

const sorted = (values: readonly number[]) => [...values].sort((a, b) => a - b);
