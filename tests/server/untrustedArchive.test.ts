import { createWriteStream } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from 'fflate';
import { beforeAll, describe, expect, test } from 'vitest';
import { ZipFile } from 'yazl';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import { importArchive } from '../../src/server/archive/importArchive.ts';
import { diskSteps } from '../../src/server/files/fileSteps.ts';
import { exported, filled, imported } from './archiveSupport.ts';
import { sha256Of, temporaryFolder, testServer } from './support.ts';

type Entries = Record<string, Uint8Array>;

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
