import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { MeasuringThread } from '../../src/browser/measuringThread.ts';
import { practisedThread } from '../../src/browser/practisedThread.ts';

/** Threads that practise until they are told that it is over. */
function threads() {
  const all: { closed: boolean; practised: (() => void) | null; fail: (() => void) | null; thread: MeasuringThread }[] =
    [];
  const start = (): MeasuringThread => {
    const one: (typeof all)[number] = {
      closed: false,
      practised: null,
      fail: null,
      thread: {
        measure: () => Promise.reject(new Error('not measured here')),
        practise: () =>
          new Promise((resolve, reject) => {
            one.practised = resolve;
            one.fail = () => reject(new Error('out of memory'));
          }),
        close: () => {
          one.closed = true;
        },
      },
    };
    all.push(one);
    return one.thread;
  };
  return { all, pixels: practisedThread(start) };
}

const LONG_MS = 60_000;

/** The picture: somebody trains in the back room; whoever comes in is served by the one at the counter. Ours to decide. */
describe('practisedThread', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  test('a photo that is there at once gets the fresh thread, and nothing practises beside it', async () => {
    const { all, pixels } = threads();
    pixels.practise();
    expect(pixels.take()).toBe(all[0]!.thread);
    await vi.advanceTimersByTimeAsync(LONG_MS);
    expect(all).toHaveLength(1);
    expect(all[0]!.practised).toBeNull();
  });

  test('a photo that comes during practice gets the fresh thread at once; the other ends and is never handed out', async () => {
    const { all, pixels } = threads();
    pixels.practise();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    expect(all[1]!.practised).not.toBeNull();
    expect(pixels.take()).toBe(all[0]!.thread);
    expect(all.map((one) => one.closed)).toEqual([false, true]);
    all[1]!.practised?.();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    expect(pixels.take()).toBe(all[2]!.thread);
  });

  test('a photo that comes later gets the practised thread; the fresh one gave its memory back', async () => {
    const { all, pixels } = threads();
    pixels.practise();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    all[1]!.practised?.();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    expect(all.map((one) => one.closed)).toEqual([true, false]);
    expect(pixels.take()).toBe(all[1]!.thread);
    expect(all).toHaveLength(2);
  });

  test('a thread that died of practice is ended, and the fresh one stays', async () => {
    const { all, pixels } = threads();
    pixels.practise();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    all[1]!.fail?.();
    await vi.advanceTimersByTimeAsync(LONG_MS);
    expect(all.map((one) => one.closed)).toEqual([false, true]);
    expect(pixels.take()).toBe(all[0]!.thread);
  });
});
