import 'fake-indexeddb/auto';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { draftEdit } from '../../src/browser/store/draftEdit.ts';
import { createQueue, NOT_COUNTED, type QueueState } from '../../src/browser/sync/createQueue.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { testServer, testVisit } from '../server/support.ts';
import { lossyServer, testPhone } from './device.ts';

// One tab in view; whoever asks for the lock gets it.
beforeEach(() => {
  const listening = { addEventListener: () => undefined, removeEventListener: () => undefined };
  vi.stubGlobal('navigator', {
    locks: { request: (_name: string, _how: unknown, run: (lock: object) => unknown) => run({}) },
  });
  vi.stubGlobal('document', { ...listening, visibilityState: 'visible' });
  vi.stubGlobal('addEventListener', listening.addEventListener);
  vi.stubGlobal('removeEventListener', listening.removeEventListener);
});
afterEach(() => vi.unstubAllGlobals());

const isEmpty = ({ waiting, counted }: QueueState) => counted && waiting.records === 0 && waiting.photos === 0;

async function startedQueue() {
  const [server, phone] = [await testServer(), await testPhone('Ada Lind')];
  let state = NOT_COUNTED;
  const queue = createQueue(
    phone.store(),
    () => phone.actor,
    lossyServer(server, () => null),
    (next) => {
      state = next;
    },
    () => undefined,
  );
  const told = async () => {
    const { body } = await server.get('/api/things/visit');
    return (body as { items: readonly unknown[] }).items.length;
  };
  const write = (id: string) =>
    draftEdit(phone.store(), 'visit', id, new Date().toISOString(), () => testVisit(id) as unknown as Json);
  return { queue, state: () => state, told, write };
}

test('a queue is called empty only while nothing is written, and nothing was since it was counted', async () => {
  const { queue, state, told, write } = await startedQueue();
  expect(isEmpty(state())).toBe(false);
  await vi.waitFor(() => expect(isEmpty(state())).toBe(true), { timeout: 10_000 });
  for (const [already, id] of ['v1', 'v2'].entries()) {
    const written = queue.writing();
    expect(isEmpty(state())).toBe(false);
    await write(id);
    // Two at once: the one that ends first says nothing of the other.
    queue.writing()();
    await queue.now();
    expect(isEmpty(state())).toBe(false);
    written();
    expect(isEmpty(state())).toBe(false);
    await vi.waitFor(() => expect(isEmpty(state())).toBe(true), { timeout: 10_000 });
    expect(await told()).toBe(already + 1);
  }
  queue.stop();
});

test('what is written while the queue counts is not called sent', async () => {
  const { queue, state, told, write } = await startedQueue();
  await vi.waitFor(() => expect(isEmpty(state())).toBe(true), { timeout: 10_000 });
  const sending = queue.now();
  const written = queue.writing();
  await Promise.all([write('v1'), sending]);
  expect(isEmpty(state())).toBe(false);
  written();
  await vi.waitFor(() => expect(isEmpty(state())).toBe(true), { timeout: 10_000 });
  expect(await told()).toBe(1);
  queue.stop();
});
