import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { createAnalysisClient } from '../../src/browser/analysisClient.ts';
import { holdWhileSeen } from '../../src/browser/holdWhileSeen.ts';
import { DEFAULT_COUNT_OPTIONS } from '../../src/core/count/countOptions.ts';
import { cannot } from '../../src/core/faults/outcome.ts';
import type { AnalysisReply, AnalysisRequest } from '../../src/worker/analysisApi.ts';

/** A thread that answers when it is told to. */
class TestThread {
  onmessage: ((event: MessageEvent<AnalysisReply>) => void) | null = null;
  onerror: ((event: ErrorEvent) => void) | null = null;
  readonly asked: AnalysisRequest[] = [];
  ended = false;
  postMessage(request: AnalysisRequest): void {
    this.asked.push(request);
  }
  terminate(): void {
    this.ended = true;
  }
  answer(): void {
    const id = this.asked.at(-1)!.id;
    const outcome = cannot('test', 'an answer', 'none', 'Nothing.');
    this.onmessage?.({ data: { id, stage: 'last', outcome } } as MessageEvent<AnalysisReply>);
  }
}

const LONG_MS = 60_000;

function client() {
  const threads: TestThread[] = [];
  const analysis = createAnalysisClient(() => {
    threads.push(new TestThread());
    return threads.at(-1) as unknown as Worker;
  });
  const count = () => analysis.count(new Blob(), 'a.jpg', DEFAULT_COUNT_OPTIONS, 'none');
  return { threads, analysis, count, running: () => threads.filter((one) => !one.ended).length };
}

/** No outside source: what the page asks of itself, so that a photo meets a thread that is ready. */
describe('the measuring thread is there before the photo', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  test('held, it stands ready however long the photo takes to come, and is the one that gets it', async () => {
    const { threads, analysis, count, running } = client();
    analysis.hold();
    expect(running()).toBe(1);
    vi.advanceTimersByTime(LONG_MS);
    const counted = count();
    expect(threads).toHaveLength(1);
    expect(threads[0]!.asked).toHaveLength(1);
    threads[0]!.answer();
    expect((await counted).ok).toBe(false);
  });

  test('after a photo its memory is given back, and a fresh thread stands ready while it is held', () => {
    const { threads, analysis, count, running } = client();
    const release = analysis.hold();
    void count();
    vi.advanceTimersByTime(LONG_MS);
    expect(threads[0]!.ended).toBe(false);
    threads[0]!.answer();
    vi.advanceTimersByTime(LONG_MS);
    expect(threads.map((one) => one.ended)).toEqual([true, false]);
    expect(threads[1]!.asked).toEqual([]);
    vi.advanceTimersByTime(LONG_MS);
    expect(threads).toHaveLength(2);
    release();
    vi.advanceTimersByTime(LONG_MS);
    expect(running()).toBe(0);
  });

  test('two who hold it: it stays until both let go; letting go twice counts once', () => {
    const { analysis, running } = client();
    const [first, second] = [analysis.hold(), analysis.hold()];
    first();
    first();
    vi.advanceTimersByTime(LONG_MS);
    expect(running()).toBe(1);
    second();
    vi.advanceTimersByTime(LONG_MS);
    expect(running()).toBe(0);
  });

  test('let go while a photo is measured, it ends only after the answer', async () => {
    const { threads, analysis, count, running } = client();
    const release = analysis.hold();
    const counted = count();
    release();
    vi.advanceTimersByTime(LONG_MS);
    expect(running()).toBe(1);
    threads[0]!.answer();
    await counted;
    vi.advanceTimersByTime(LONG_MS);
    expect(running()).toBe(0);
  });

  test('out of view it is let go, so that the camera has the room; in view again it stands ready again', () => {
    const { threads, analysis, running } = client();
    const page = Object.assign(new EventTarget(), { visibilityState: 'visible' });
    const turn = (to: 'visible' | 'hidden') => {
      page.visibilityState = to;
      page.dispatchEvent(new Event('visibilitychange'));
      vi.advanceTimersByTime(LONG_MS);
    };
    const end = holdWhileSeen(analysis.hold, page as unknown as Document);
    turn('visible');
    expect(threads).toHaveLength(1);
    turn('hidden');
    expect(running()).toBe(0);
    turn('visible');
    expect(running()).toBe(1);
    end();
    turn('visible');
    expect(running()).toBe(0);
  });
});
