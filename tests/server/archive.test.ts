import { createWriteStream, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import fc from 'fast-check';
import { strFromU8, unzipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import { exportArchive } from '../../src/server/archive/exportArchive.ts';
import { diskSteps } from '../../src/server/files/fileSteps.ts';
import { archiveHash } from '../../src/server/store/contentHash.ts';
import { exported, filled, imported, keep, photoCount } from './archiveSupport.ts';
import { fakePhoto, sha256Of, type TestServer, temporaryFolder, testDevice, testServer, testVisit } from './support.ts';

describe('export, wipe, import', () => {
  test('another installation holds the same: records, photos, documents, conflicts', async () => {
    const { server, photos } = await filled();
    const zip = await exported(server);
    const other = await testServer();
    expect((await imported(other, zip)).body).toEqual({
      records: 5,
      knownRecords: 0,
      photos: 2,
      knownPhotos: 0,
      missingPhotos: 0,
      contentHash: await archiveHash(server.deps.db),
    });
    expect(await archiveHash(other.deps.db)).toBe(await archiveHash(server.deps.db));
    for (const photo of photos)
      expect(readFileSync(other.deps.photos.pathOf(sha256Of(photo))).equals(photo)).toBe(true);
    for (const kind of ['visit', 'field', 'farm', 'planting', 'spot', 'photo']) {
      expect((await other.get(`/api/things/${kind}`)).body).toEqual((await server.get(`/api/things/${kind}`)).body);
    }
    expect((await imported(other, zip)).body).toMatchObject({ records: 0, knownRecords: 5, photos: 0, knownPhotos: 2 });
    expect(await archiveHash(other.deps.db)).toBe(await archiveHash(server.deps.db));
    await other.close();
    await server.close();
  });

  test('one field takes along what belongs to it and nothing else', async () => {
    const { server, photos } = await filled();
    const other = await testServer();
    expect((await imported(other, await exported(server, '?field=field-1'))).body).toMatchObject({
      records: 4,
      photos: 1,
    });
    const visits = (await other.get('/api/things/visit')).body as { items: { id: string }[] };
    expect(visits.items.map((item) => item.id)).toEqual(['visit-1']);
    expect(await other.deps.photos.find(sha256Of(photos[1] as Uint8Array))).toBeUndefined();
    expect((await server.get('/api/export?field=nowhere')) as unknown).toMatchObject({ status: 404 });
    await other.close();
    await server.close();
  });

  test('any archive comes back equal by content hash', async () => {
    const word = fc.constantFrom('a', 'ü', '"', ',', '=1+1', '\n', '../x', '😀', '');
    const anyVisit = fc.record({
      id: fc.constantFrom('v1', 'v2', 'v3', 'v.4:x_y-z'),
      field: fc.constantFrom('f1', 'f2'),
      words: fc.array(word, { maxLength: 3 }).map((parts) => parts.join('')),
      photo: fc.option(fc.integer({ min: 0, max: 5 })),
      author: fc.constantFrom('Ada', 'Ben'),
    });
    await fc.assert(
      fc.asyncProperty(
        fc.array(anyVisit, { maxLength: 6 }),
        fc.array(fc.nat(5), { maxLength: 3 }),
        async (edits, loose) => {
          const server = await testServer();
          const devices = { Ada: testDevice('Ada'), Ben: testDevice('Ben') };
          const records: ChangeRecord[] = [];
          for (const [i, { id, field, words, photo, author }] of edits.entries()) {
            const bytes = photo === null ? null : fakePhoto(photo, 200 + photo);
            // Every other photo has not arrived yet.
            if (bytes !== null && photo !== null && photo % 2 === 0) await keep(server, bytes);
            const counts = bytes === null ? [] : [photoCount('c1', sha256Of(bytes))];
            const visit = testVisit(id, {
              field: { id: field, name: words },
              spots: [{ id: 's1', note: words, counts }],
            });
            const record = devices[author as 'Ada' | 'Ben'].edit('visit', id, visit, i);
            if (record.changes.length > 0) records.push(record);
          }
          for (const seed of loose) await keep(server, fakePhoto(seed, 300));
          await server.post('/api/sync', { records, after: null });
          const other = await testServer();
          expect((await imported(other, await exported(server))).status).toBe(200);
          expect(await archiveHash(other.deps.db)).toBe(await archiveHash(server.deps.db));
          const documents = async (one: TestServer) =>
            one.deps.db.selectFrom('document').selectAll().orderBy('id').execute();
          expect(await documents(other)).toEqual(await documents(server));
          await other.close();
          await server.close();
        },
      ),
      { numRuns: 12 },
    );
  });

  test('the copies for people: counts as CSV, fields and spots as GeoJSON, documents as JSON', async () => {
    const { server } = await filled();
    const entries = unzipSync(await exported(server));
    const [header, ...rows] = strFromU8(entries['tables/counts.csv'] as Uint8Array)
      .trimEnd()
      .split('\r\n');
    expect(header?.split(',').slice(0, 5)).toEqual(['visit', 'visited_on', 'season', 'farm', 'field']);
    expect(rows[0]).toMatch(
      /^visit-1,2026-06-19,2026,Hollow Elm Farm,"Field ""1"", north",pinto,0\.762,s1,47\.1,-98\.2,c1,photo,1,3,,30,28,33,0,[0-9a-f]{64}$/,
    );
    const fields = JSON.parse(strFromU8(entries['maps/fields.geojson'] as Uint8Array)) as {
      features: { id: string; geometry: unknown }[];
    };
    expect(fields.features.map((feature) => feature.id)).toEqual(['field-1', 'field-2']);
    expect(fields.features[0]?.geometry).toEqual({
      type: 'Polygon',
      coordinates: [
        [
          [-98, 47],
          [-97.99, 47],
          [-97.99, 47.01],
          [-98, 47.01],
          [-98, 47],
        ],
      ],
    });
    const spots = JSON.parse(strFromU8(entries['maps/spots.geojson'] as Uint8Array)) as {
      features: { geometry: unknown }[];
    };
    expect(spots.features[0]?.geometry).toEqual({ type: 'Point', coordinates: [-98.2, 47.1] });
    expect(Object.keys(entries).filter((name) => name.startsWith('documents/visit/'))).toHaveLength(2);
    await server.close();
  });
});

describe('an export that cannot be whole', () => {
  test('names the photo that is gone, which can then be sent again', async () => {
    const { server, photos } = await filled();
    const photo = photos[0] as Uint8Array;
    await diskSteps.remove(server.deps.photos.pathOf(sha256Of(photo)));
    const refused = await server.get('/api/export');
    expect(refused).toMatchObject({ status: 500, body: { error: { code: 'photo-gone' } } });
    expect(await server.deps.photos.state(sha256Of(photo))).toEqual({ state: 'absent', offset: 0 });
    await keep(server, photo);
    expect((await server.app.request('/api/export')).status).toBe(200);
    await server.close();
  });

  test('breaks off instead of leaving a hole when the disk fails on the way', async () => {
    const { server } = await filled();
    const read = () =>
      new Readable({ read: (_size) => undefined, construct: (done) => done(new Error('EIO: injected')) });
    const deps = { ...server.deps, photos: { ...server.deps.photos, read } };
    const path = join(temporaryFolder(), 'out.zip');
    const stream = await exportArchive(deps, null);
    await expect(pipeline(stream, createWriteStream(path))).rejects.toThrow('EIO');
    await server.close();
  });
});
