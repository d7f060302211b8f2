import { createWriteStream, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import fc from 'fast-check';
import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import { beforeAll, describe, expect, test } from 'vitest';
import { ZipFile } from 'yazl';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import { exportArchive } from '../../src/server/archive/exportArchive.ts';
import { importArchive } from '../../src/server/archive/importArchive.ts';
import { diskSteps } from '../../src/server/files/fileSteps.ts';
import { archiveHash } from '../../src/server/store/contentHash.ts';
import { fakePhoto, sha256Of, type TestServer, temporaryFolder, testDevice, testServer, testVisit } from './support.ts';

type Entries = Record<string, Uint8Array>;

const keep = async (server: TestServer, photo: Uint8Array) =>
  server.deps.photos.append(sha256Of(photo), 0, photo.length, photo);

const exported = async (server: TestServer, query = ''): Promise<Uint8Array> => {
  const answer = await server.app.request(`/api/export${query}`);
  expect(answer.status).toBe(200);
  return new Uint8Array(await answer.arrayBuffer());
};

const imported = async (server: TestServer, zip: Uint8Array) => {
  const answer = await server.app.request('/api/import', {
    method: 'POST',
    headers: { 'Content-Type': 'application/zip' },
    body: zip as BodyInit,
  });
  return {
    status: answer.status,
    body: (await answer.json()) as { error?: { code: string; message: string }; photos: number },
  };
};

const photoCount = (id: string, sha256: string) => ({
  id,
  kind: 'photo',
  result: {
    schema: 'rowledger/count@1',
    photo: { file: '=row.jpg', sha256, takenAt: null },
    stretch: { fromM: 0, toM: 3, lengthM: 3 },
    plants: [],
    count: { value: 30, low: 28, high: 33, level: 0.9 },
    gaps: [],
  },
});

/** Two fields, two visits with a photo each, a field with an outline, a correction by another person. */
async function filled() {
  const server = await testServer();
  const [ada, ben] = [testDevice('Ada'), testDevice('Ben')];
  const photos = [fakePhoto(1, 3000), fakePhoto(2, 2000)];
  for (const photo of photos) await keep(server, photo);
  const visit = (n: number) =>
    testVisit(`visit-${n}`, {
      field: { id: `field-${n}`, name: `Field "${n}", north` },
      planting: { id: `planting-${n}`, plantedOn: '2026-06-01', marketClass: 'pinto', rowWidth: '30 in' },
      spots: [{ id: 's1', position: [47.1, -98.2], counts: [photoCount('c1', sha256Of(photos[n - 1] as Uint8Array))] }],
    });
  const outline = [
    [47, -98],
    [47, -97.99],
    [47.01, -97.99],
    [47.01, -98],
  ];
  const first = [
    ada.edit('field', 'field-1', {
      schema: 'rowledger/field@1',
      id: 'field-1',
      name: 'Field one',
      farmId: 'farm-1',
      outline,
    }),
    ada.edit('farm', 'farm-1', { schema: 'rowledger/farm@1', id: 'farm-1', name: 'Hollow Elm Farm' }),
    ada.edit('visit', 'visit-1', visit(1)),
    ada.edit('visit', 'visit-2', visit(2)),
  ];
  ben.learn(first);
  const second = ben.edit('visit', 'visit-1', { ...visit(1), visitedOn: '2026-06-19' });
  await server.post('/api/sync', { records: [...first, second], after: null });
  return { server, photos, records: [...first, second] };
}

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

describe('a file that is not to be trusted', () => {
  let good: Uint8Array;
  beforeAll(async () => {
    const { server } = await filled();
    good = await exported(server);
    await server.close();
  });
  const withEntries = async (alter: (entries: Entries) => void) => {
    const entries = unzipSync(good) as Entries;
    alter(entries);
    return zipSync(entries as Zippable, { level: 0 });
  };
  const manifestOf = (entries: Entries) =>
    JSON.parse(strFromU8(entries['rowledger.json'] as Uint8Array)) as Record<string, never>;
  const putManifest = (entries: Entries, parts: object) => {
    entries['rowledger.json'] = strToU8(JSON.stringify({ ...manifestOf(entries), ...parts }));
  };
  const first = (entries: Entries, folder: string) =>
    Object.keys(entries).find((name) => name.startsWith(folder)) as string;
  const flip = (entries: Entries, name: string) => {
    const bytes = Uint8Array.from(entries[name] as Uint8Array);
    bytes[bytes.length - 5]! ^= 1;
    entries[name] = bytes;
  };

  const CASES: readonly [string, string, (entries: Entries) => void][] = [
    [
      'a name that climbs out of its folder',
      'unsafe-archive',
      (e) => {
        e['../../evil.txt'] = strToU8('x');
      },
    ],
    [
      'an absolute name',
      'unsafe-archive',
      (e) => {
        e['/etc/evil'] = strToU8('x');
      },
    ],
    [
      'a name with a backslash',
      'unsafe-archive',
      (e) => {
        e['photos\\..\\..\\evil'] = strToU8('x');
      },
    ],
    [
      'a drive letter',
      'unsafe-archive',
      (e) => {
        e['C:/evil'] = strToU8('x');
      },
    ],
    [
      'a name this program does not give',
      'unsafe-archive',
      (e) => {
        e['photos/ab/run.sh'] = strToU8('x');
      },
    ],
    [
      'no list of contents',
      'not-an-archive',
      (e) => {
        delete e['rowledger.json'];
      },
    ],
    [
      'another list of contents',
      'not-an-archive',
      (e) => {
        e['rowledger.json'] = strToU8('{"schema":"other@1"}');
      },
    ],
    ['a newer version', 'too-new', (e) => putManifest(e, { schema: 'rowledger/archive@2' })],
    ['an altered photo', 'wrong-hash', (e) => flip(e, first(e, 'photos/'))],
    ['an altered record', 'broken-archive', (e) => flip(e, first(e, 'records/'))],
    [
      'a photo missing from the zip',
      'broken-archive',
      (e) => {
        delete e[first(e, 'photos/')];
      },
    ],
    ['a photo missing from the list', 'broken-archive', (e) => putManifest(e, { photos: [] })],
    [
      'a record left out of all lists',
      'broken-archive',
      (e) => {
        delete e[first(e, 'records/')];
        putManifest(e, { records: [] });
      },
    ],
    [
      'a photo said to be of another size',
      'broken-archive',
      (e) =>
        putManifest(e, {
          photos: (manifestOf(e).photos as { bytes: number }[]).map((p) => ({ ...p, bytes: p.bytes + 1 })),
        }),
    ],
  ];

  test.each(CASES)('%s: refused, and nothing of it stays', async (_name, code, alter) => {
    const zip = await withEntries(alter);
    const other = await testServer();
    const refused = await imported(other, zip);
    expect([refused.body.error?.code, refused.status]).toEqual([code, 422]);
    expect(refused.body.error?.message).toMatch(/^Found .+; wanted .+\. .+\.$/);
    expect((await other.get('/api/status')).body).toMatchObject({ records: 0, visits: 0, photos: 0 });
    expect(await diskSteps.list(join(other.folder, 'incoming'))).toEqual([]);
    expect(other.reported).toEqual([]);
    await other.close();
  });

  test('a record of a newer version is refused by name', async () => {
    const zip = await withEntries((entries) => {
      const name = first(entries, 'records/');
      const text = strFromU8(entries[name] as Uint8Array).replaceAll('rowledger/record@1', 'rowledger/record@7');
      entries[name] = strToU8(text);
      const records = manifestOf(entries).records as { sha256: string }[];
      putManifest(entries, { records: records.map((one) => ({ ...one, sha256: sha256Of(strToU8(text)) })) });
    });
    const other = await testServer();
    expect((await imported(other, zip)).body.error).toMatchObject({
      code: 'too-new',
      found: 'records/000001.jsonl line 1: a record of version 7',
    });
    await other.close();
  });

  test('a record that this archive has with other contents stops the import', async () => {
    const { server, records } = await filled();
    const zip = await exported(server);
    const other = await testServer();
    const altered = { ...(records[0] as ChangeRecord), author: 'Mallory' };
    await other.post('/api/sync', { records: [altered], after: null });
    expect((await imported(other, zip)).body.error?.code).toBe('record-changed');
    expect((await other.get('/api/status')).body).toMatchObject({ records: 1, photos: 0 });
    await other.close();
    await server.close();
  });

  test('what is no zip, empty, or of another type', async () => {
    const server = await testServer();
    expect((await imported(server, strToU8('hello'))).body.error?.code).toBe('not-an-archive');
    expect((await imported(server, new Uint8Array(0))).body.error?.code).toBe('not-an-archive');
    const typed = await server.app.request('/api/import', {
      method: 'POST',
      headers: { 'Content-Type': 'text/plain' },
      body: 'x',
    });
    expect(typed.status).toBe(415);
    await server.close();
  });

  test('a small entry that unpacks to more than is allowed is refused before it is unpacked', async () => {
    const path = join(temporaryFolder(), 'bomb.zip');
    const zip = new ZipFile();
    zip.addBuffer(Buffer.alloc(65 * 1024 * 1024), `photos/ab/ab${'0'.repeat(62)}.jpg`, { compressionLevel: 1 });
    zip.end();
    await pipeline(zip.outputStream, createWriteStream(path));
    const server = await testServer();
    await expect(importArchive(server.deps, path)).rejects.toMatchObject({ fault: { code: 'broken-archive' } });
    await server.close();
  });

  test('the disk fills up in the middle of an import: said plainly, and nothing of it stays', async () => {
    const { server } = await filled();
    const zip = await exported(server);
    let renames = 0;
    const full = () => Promise.reject(Object.assign(new Error('ENOSPC'), { code: 'ENOSPC' }));
    const other = await testServer(
      {},
      { ...diskSteps, rename: (a, b) => (++renames === 2 ? full() : diskSteps.rename(a, b)) },
    );
    expect((await imported(other, zip)).body.error?.code).toBe('disk-full');
    expect((await other.get('/api/status')).body).toMatchObject({ records: 0, photos: 0 });
    expect((await imported(other, zip)).body.photos).toBe(2);
    await other.close();
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
