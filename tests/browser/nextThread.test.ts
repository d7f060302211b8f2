import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { nextThread } from '../../src/browser/nextThread.ts';

/** The picture: one thread waits in the wings; a photo that is there goes before it. What is asked for here is ours. */
describe('nextThread', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  it('starts one thread in a quiet moment, however often it is asked, and hands out that one', async () => {
    const start = vi.fn(async () => `thread ${start.mock.calls.length}`);
    const next = nextThread(start);
    next.prepare();
    next.prepare();
    expect(start).not.toHaveBeenCalled();
    vi.runAllTimers();
    next.prepare();
    vi.runAllTimers();
    expect(start).toHaveBeenCalledTimes(1);
    expect(await next.take()).toBe('thread 1');
    // The taken one is whoever's took it: the next is another.
    expect(await next.take()).toBe('thread 2');
  });

  it('starts nothing while a photo that was there already is looked at, and then one for its asking', async () => {
    const start = vi.fn(async () => 'thread');
    const next = nextThread(start);
    next.prepare();
    next.putOff();
    vi.runAllTimers();
    expect(start).not.toHaveBeenCalled();
    expect(await next.take()).toBe('thread');
    expect(start).toHaveBeenCalledTimes(1);
  });

  it('starts no second thread for a photo that came in the quiet moment', async () => {
    const start = vi.fn(async () => 'thread');
    const next = nextThread(start);
    next.prepare();
    await next.take();
    vi.runAllTimers();
    expect(start).toHaveBeenCalledTimes(1);
  });

  it('forgets a thread that could not start, and tells why where it is being waited for', async () => {
    const start = vi.fn(async () => 'thread');
    start.mockRejectedValueOnce(new Error('no network')).mockRejectedValueOnce(new Error('no memory'));
    const next = nextThread(start);
    next.prepare();
    await vi.runAllTimersAsync();
    await expect(next.take()).rejects.toThrow('no memory');
    expect(await next.take()).toBe('thread');
  });
});
