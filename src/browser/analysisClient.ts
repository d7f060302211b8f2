import type { CountOptions } from '../core/count/countOptions.ts';
import type { CountResult } from '../core/count/countResult.ts';
import { cannot, good, type Outcome } from '../core/faults/outcome.ts';
import type { Head } from '../core/learning/head.ts';
import type { AnalysisReply, AnalysisRequest, Measured } from '../worker/analysisApi.ts';
import { colourAlone } from '../worker/colourAlone.ts';

export interface AnalysisClient {
  /**
   * Measures one photo off the page's thread. Never rejects: trouble is an outcome in plain words.
   *
   * @param onFirst gets quick counts by colour, to be shown while more is looked at; never to be kept.
   * @param head what was learned from this farm's corrections; left out: the stock detector.
   */
  readonly count: (
    photo: Blob,
    file: string,
    options: CountOptions,
    model: string,
    onFirst?: (first: CountResult) => void,
    head?: Head | null,
  ) => Promise<Outcome<Measured>>;
  /** Keeps a measuring thread ready while a photo may come; answers how to let it go. */
  readonly hold: () => () => void;
  readonly close: () => void;
}

interface Asked {
  readonly answer: (outcome: Outcome<Measured>) => void;
  readonly onFirst: (first: CountResult) => void;
  first: Measured | null;
}

/** A thread ends so long after its last photo: only that gives all of its memory back to the phone. */
const IDLE_MS = 10_000;

/** Starts the measuring thread on first use and pairs its answers with their questions. */
export function createAnalysisClient(start: () => Worker): AnalysisClient {
  let worker: Worker | null = null;
  let idle: ReturnType<typeof setTimeout> | undefined;
  let next = 1;
  let holders = 0;
  /** Whether the thread has had a photo, and so holds more than its code. */
  let used = false;
  const asked = new Map<number, Asked>();
  const stop = () => {
    clearTimeout(idle);
    worker?.terminate();
    worker = null;
  };
  const rest = () => {
    stop();
    if (holders > 0) running();
  };
  const restWhenIdle = () => {
    clearTimeout(idle);
    if (asked.size === 0 && (used || holders === 0)) idle = setTimeout(rest, IDLE_MS);
  };
  const running = (): Worker => {
    clearTimeout(idle);
    if (worker !== null) return worker;
    used = false;
    worker = start();
    worker.onmessage = ({ data }: MessageEvent<AnalysisReply>) => {
      const about = asked.get(data.id);
      if (about === undefined) return;
      if (data.stage !== 'last') {
        if (!data.outcome.ok) return;
        if (data.stage === 'first') about.first = data.outcome.value;
        return about.onFirst(data.outcome.value.result);
      }
      asked.delete(data.id);
      restWhenIdle();
      about.answer(data.outcome);
    };
    // A thread that dies (out of memory) must not leave anybody waiting: answer all, start afresh next time.
    worker.onerror = (event) => {
      const all = [...asked.values()];
      asked.clear();
      stop();
      for (const about of all) about.answer(stopped(about.first, event.message || 'out of memory'));
    };
    return worker;
  };
  return {
    count: (photo, file, options, model, onFirst = () => undefined, head = null) =>
      new Promise((answer) => {
        const id = next++;
        asked.set(id, { answer, onFirst, first: null });
        running().postMessage({ id, photo, file, options, model, head } satisfies AnalysisRequest);
        used = true;
      }),
    hold: () => {
      holders++;
      running();
      restWhenIdle();
      let released = false;
      return () => {
        if (released) return;
        released = true;
        holders--;
        restWhenIdle();
      };
    },
    close: stop,
  };
}

/** What is left where the thread died: the count by colour where there was one, else why there is none. */
function stopped(first: Measured | null, why: string): Outcome<Measured> {
  if (first === null) {
    return cannot(
      'analysis-stopped',
      `measuring stopped (${why})`,
      'enough free memory for one photo',
      'Close other pages and try again; the photo is saved.',
    );
  }
  const warnings = [...first.result.warnings, colourAlone(`the plant network stopped (${why})`)];
  return good({ ...first, result: { ...first.result, warnings } });
}
