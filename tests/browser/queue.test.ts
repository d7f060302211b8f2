import 'fake-indexeddb/auto';
import { beforeEach, describe, expect, test } from 'vitest';
import { dropRefusedPhotos, dropSentPhotos, keepPhoto } from '../../src/browser/store/keepPhoto.ts';
import { settleHere } from '../../src/browser/store/settleHere.ts';
import type { HeldPhoto } from '../../src/browser/store/storeTypes.ts';
import { seededRandom } from '../../src/core/statistics/seededRandom.ts';
import type { Json } from '../../src/core/sync/json.ts';
import { mergeRecords } from '../../src/core/sync/mergeRecords.ts';
import { fakePhoto, sha256Of, type TestServer, testId, testServer, testVisit } from '../server/support.ts';
import { type Lost, lossyServer, testPhone } from './device.ts';

type Visit = ReturnType<typeof testVisit> & { note?: string };
type Whole = { document: Json; conflicts: { path: string; sides: { author: string }[] }[] };

const asVisit = (change: (visit: Visit) => unknown) => (document: Json) => change(document as unknown as Visit) as Json;
/** One more plant in the only count. */
const onePlant = asVisit((visit) => {
  const [spot] = visit.spots;
  const [count] = spot!.counts;
  return { ...visit, spots: [{ ...spot, counts: [{ ...count, plants: [(count!.plants[0] ?? 0) + 1] }] }] };
});
const plantsOf = (document: Json) => (document as unknown as Visit).spots[0]!.counts[0]!.plants[0];

describe('what is entered on a phone', () => {
  let server: TestServer;
  beforeEach(async () => {
    server = await testServer();
  });
  const sure = () => lossyServer(server, () => null);
  const whole = async (id: string) => (await server.get(`/api/things/visit/${id}`)).body as unknown as Whole;

  test('is there after a restart, tap by tap, and becomes one record when it is sent', async () => {
    const phone = await testPhone('Ada Lind');
    await phone.edit('v1', () => testVisit('v1') as unknown as Json);
    for (let i = 0; i < 25; i++) {
      await phone.edit('v1', onePlant);
      if (i % 10 === 0) await phone.restart();
    }
    expect(plantsOf(await phone.seen('v1'))).toBe(65);
    expect(await phone.waiting()).toMatchObject({ records: 1 });
    expect(await phone.send(sure())).toEqual({ ok: true });
    expect(await phone.waiting()).toMatchObject({ records: 0, refused: [] });
    const { records } = (await server.get('/api/things/visit/v1/records')).body as { records: unknown[] };
    expect(records).toHaveLength(1);
    expect(plantsOf((await whole('v1')).document)).toBe(65);
  });

  test('a change that was never on screen is never claimed to have been seen', async () => {
    const [ada, ben] = [await testPhone('Ada Lind'), await testPhone('Ben Okoro')];
    await ada.edit('v1', () => testVisit('v1') as unknown as Json);
    await ada.send(sure());
    await ben.send(sure());
    await ada.edit('v1', onePlant);
    for (let i = 0; i < 3; i++) await ben.edit('v1', onePlant);
    await ada.send(sure());
    // Ben's taps are still a draft while Ada's record comes in.
    await ben.send(sure());
    await ada.send(sure());
    const { conflicts } = await whole('v1');
    expect(conflicts.map((one) => one.sides.map((side) => side.author).sort())).toEqual([['Ada Lind', 'Ben Okoro']]);
    for (const phone of [ada, ben]) expect((await phone.held('v1'))?.conflicts).toHaveLength(1);
  });

  test('machine detections go as the server wants them', async () => {
    const phone = await testPhone('Ada Lind');
    const id = testId('detections');
    const value = {
      schema: 'rowledger/detections@1',
      photo: 'ab'.repeat(32),
      model: { name: 'none', version: '1' },
      code: 'test',
      at: '2026-06-18T09:00:00.000Z',
      result: { schema: 'rowledger/count@1' },
    };
    await settleHere(phone.store(), phone.actor, 'detections', id, () => [{ path: '', value, replaces: [] }]);
    await phone.send(sure());
    expect(await phone.waiting()).toMatchObject({ records: 0, refused: [] });
  });

  test('what the server refuses stays here, with the reason, and holds nothing else up', async () => {
    const phone = await testPhone('Ada Lind');
    await settleHere(phone.store(), phone.actor, 'detections', testId('bad'), () => [
      { path: '/part', value: 1, replaces: [] },
    ]);
    await phone.edit('v1', () => testVisit('v1') as unknown as Json);
    expect(await phone.send(sure())).toEqual({ ok: true });
    const waiting = await phone.waiting();
    expect(waiting.records).toBe(1);
    expect(waiting.refused.join()).toContain('one change at the root path');
    expect(plantsOf((await whole('v1')).document)).toBe(40);
  });

  test('another archive at the same address gets everything again', async () => {
    const phone = await testPhone('Ada Lind');
    await phone.edit('v1', () => testVisit('v1') as unknown as Json);
    await keepPhoto(phone.store(), new Blob([fakePhoto(1, 3000) as never]), 'a.jpg', '2026-06-18T09:00:00.000Z');
    await phone.send(sure());
    await server.close();
    server = await testServer();
    expect(await phone.send(sure())).toEqual({ ok: true });
    expect(plantsOf((await whole('v1')).document)).toBe(40);
    expect((await server.get('/api/status')).body).toMatchObject({ photos: 1, visits: 1 });
  });

  test('photos that were sent can be removed here, others cannot', async () => {
    const phone = await testPhone('Ada Lind');
    const at = '2026-06-18T09:00:00.000Z';
    const sent = await keepPhoto(phone.store(), new Blob([fakePhoto(1, 3000) as never]), 'a.jpg', at);
    await phone.send(sure());
    const waits = await keepPhoto(phone.store(), new Blob([fakePhoto(2, 3000) as never]), 'b.jpg', at);
    expect(await dropSentPhotos(phone.store())).toBe(3000);
    expect(await phone.store().getAllKeys('photos')).toEqual([waits.sha256]);
    expect(sent.sha256).not.toBe(waits.sha256);
  });

  test('a file that is no photo is told apart, and goes only when a person says so; photos stay', async () => {
    const phone = await testPhone('Ada Lind');
    const at = '2026-06-18T09:00:00.000Z';
    const text = await keepPhoto(phone.store(), new Blob(['a note, no photo']), 'note.jpg', at);
    const other = await keepPhoto(phone.store(), new Blob(['another note']), 'other.jpg', at);
    await phone.send(sure());
    const photo = await keepPhoto(phone.store(), new Blob([fakePhoto(1, 3000) as never]), 'a.jpg', at);
    expect(await phone.waiting()).toMatchObject({ photos: 3, refusedPhotos: 2 });
    expect(await dropRefusedPhotos(phone.store(), text.sha256)).toBe(1);
    expect((await phone.store().getAllKeys('photos')).sort()).toEqual([other.sha256, photo.sha256].sort());
    expect(await dropRefusedPhotos(phone.store(), photo.sha256)).toBe(0);
    expect(await dropRefusedPhotos(phone.store(), null)).toBe(1);
    expect(await phone.store().getAllKeys('photos')).toEqual([photo.sha256]);
  });

  test('a photo can be looked at while it is written, byte for byte; what finds no room is told', async () => {
    const phone = await testPhone('Ada Lind');
    const [bytes, at] = [fakePhoto(1, 3000), '2026-06-18T09:00:00.000Z'];
    const seen: HeldPhoto[] = [];
    const onRead = (photo: HeldPhoto) => void seen.push(photo);
    const kept = await keepPhoto(phone.store(), new Blob([bytes as never]), 'a.jpg', at, onRead);
    expect(seen.map((one) => one.sha256)).toEqual([sha256Of(bytes)]);
    expect(Buffer.compare(Buffer.from(await seen[0]!.blob.arrayBuffer()), bytes)).toBe(0);
    expect((await phone.store().get('photos', kept.sha256))?.waiting).toBe(1);
    // Once more: told again, and the one that is held stays as it is.
    const again = await keepPhoto(phone.store(), new Blob([bytes as never]), 'b.jpg', at, onRead);
    expect([again.file, seen.length]).toEqual(['a.jpg', 2]);
    phone.store().close();
    await expect(keepPhoto(phone.store(), new Blob([bytes as never]), 'c.jpg', at, onRead)).rejects.toThrow();
    expect(seen).toHaveLength(2);
  });

  test.each([1, 2, 3])('two phones on lossy lines agree with the server in the end (seed %i)', async (seed) => {
    const random = seededRandom(seed);
    const loses = (): Lost => (random() < 0.25 ? 'question' : random() < 0.25 ? 'answer' : null);
    const line = lossyServer(server, loses);
    const phones = [await testPhone('Ada Lind'), await testPhone('Ben Okoro')];
    const photos: Uint8Array[] = [];
    const [first] = phones;
    await first!.edit('v1', () => testVisit('v1') as unknown as Json);
    await first!.send(sure());
    await phones[1]!.send(sure());
    let notes = 0;
    for (let step = 0; step < 40; step++) {
      const who = random() < 0.5 ? 0 : 1;
      const phone = phones[who]!;
      const act = random();
      if (act < 0.4) await phone.edit('v1', onePlant);
      else if (act < 0.55) {
        const note = { id: `impression-${who}-${notes++}`, at: '2026-06-18T09:00:00.000Z', by: 'ada', leaning: 'wait' };
        await phone.edit(
          'v1',
          asVisit((visit) => ({
            ...visit,
            impressions: [...((visit as unknown as { impressions?: object[] }).impressions ?? []), note],
          })),
        );
      } else if (act < 0.65) {
        const bytes = fakePhoto(seed * 100 + step, 2000 + Math.floor(random() * 6000));
        photos.push(bytes);
        await keepPhoto(phone.store(), new Blob([bytes as never]), `${step}.jpg`, phone.actor.now());
      } else if (act < 0.75) await phone.restart();
      else await phone.send(line);
    }
    for (let round = 0; round < 60; round++) {
      for (const phone of phones) await phone.send(round < 30 ? line : sure());
    }
    for (const phone of phones) expect(await phone.waiting()).toMatchObject({ records: 0, photos: 0, refused: [] });

    const { document } = await whole('v1');
    for (const phone of phones) expect((await phone.held('v1'))?.document).toEqual(document);
    expect((document as { impressions?: unknown[] }).impressions ?? []).toHaveLength(notes);
    const { records } = (await server.get('/api/things/visit/v1/records')).body as { records: never[] };
    expect(mergeRecords(records).document).toEqual(document);
    for (const bytes of photos) {
      const kept = await server.app.request(`/api/photos/${sha256Of(bytes)}`);
      expect(Buffer.compare(Buffer.from(await kept.arrayBuffer()), bytes)).toBe(0);
    }
    expect(server.reported).toEqual([]);
  });
});
