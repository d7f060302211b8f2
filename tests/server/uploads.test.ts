import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Fetch, uploadPhoto } from '../../src/server/client/uploadPhoto.ts';
import { diskSteps, type FileSteps } from '../../src/server/files/fileSteps.ts';
import { fakePhoto, sha256Of, type TestServer, temporaryFolder, testServer } from './support.ts';

const PART = 'application/offset+octet-stream';

const append = (server: TestServer, sha256: string, offset: number, length: number, bytes: Uint8Array, type = PART) =>
  server.app.request(`/api/photos/${sha256}/upload`, {
    method: 'PATCH',
    headers: { 'Content-Type': type, 'Upload-Offset': String(offset), 'Upload-Length': String(length) },
    body: bytes as BodyInit,
  });

const codeOf = async (answer: Response) => ((await answer.json()) as { error: { code: string } }).error.code;

const storedFiles = (folder: string): string[] =>
  existsSync(join(folder, 'photos'))
    ? readdirSync(join(folder, 'photos'), { recursive: true, withFileTypes: true })
        .filter((entry) => entry.isFile())
        .map((entry) => entry.name)
    : [];

describe('sending a photo in parts', () => {
  test('arrives byte for byte under its SHA-256, once', async () => {
    const server = await testServer();
    const photo = fakePhoto(1, 1000);
    const sha256 = sha256Of(photo);
    expect(await (await append(server, sha256, 0, 1000, photo.subarray(0, 600))).json()).toEqual({
      state: 'partial',
      offset: 600,
    });
    expect(storedFiles(server.folder)).toEqual([]);
    expect(await (await append(server, sha256, 600, 1000, photo.subarray(600))).json()).toEqual({
      state: 'stored',
      offset: 1000,
    });
    expect(await (await append(server, sha256, 600, 1000, photo.subarray(600))).json()).toEqual({
      state: 'stored',
      offset: 1000,
    });
    expect(storedFiles(server.folder)).toEqual([sha256]);
    expect(readFileSync(server.deps.photos.pathOf(sha256)).equals(photo)).toBe(true);
    const original = await server.app.request(`/api/photos/${sha256}`);
    expect(original.headers.get('content-type')).toBe('image/jpeg');
    expect(new Uint8Array(await original.arrayBuffer())).toEqual(photo);
    await server.close();
  });

  test('refuses what does not fit, and says from where to go on', async () => {
    const server = await testServer();
    const photo = fakePhoto(2, 500);
    const sha256 = sha256Of(photo);
    await append(server, sha256, 0, 500, photo.subarray(0, 200));
    const wrong = await append(server, sha256, 300, 500, photo.subarray(300));
    expect(wrong.status).toBe(409);
    expect(((await wrong.json()) as { error: unknown }).error).toMatchObject({
      code: 'wrong-offset',
      facts: { offset: 200 },
    });
    expect(await codeOf(await append(server, sha256, 200, 300, photo.subarray(200)))).toBe('wrong-length');
    expect(await codeOf(await append(server, sha256, 200, 500, photo.subarray(200), 'image/jpeg'))).toBe('wrong-type');
    expect(await codeOf(await append(server, sha256, 0, 1e9, photo))).toBe('too-large');
    expect(await codeOf(await append(server, sha256, 0, 1e8, new Uint8Array(9 * 1024 * 1024)))).toBe('too-large');
    expect(await codeOf(await append(server, '../../etc/passwd', 0, 500, photo))).toBe('not-found');
    expect(await codeOf(await append(server, '%2e%2e%2fpasswd', 0, 500, photo))).toBe('bad-request');
    await server.close();
  });

  test('other bytes than the hash promises are thrown away, and so is what is no photo', async () => {
    const server = await testServer();
    const photo = fakePhoto(3, 300);
    const sha256 = sha256Of(photo);
    const altered = Uint8Array.from(photo, (byte, i) => (i === 150 ? byte ^ 1 : byte));
    expect(await codeOf(await append(server, sha256, 0, 300, altered))).toBe('wrong-hash');
    expect(await server.deps.photos.state(sha256)).toEqual({ state: 'absent', offset: 0 });
    const text = new TextEncoder().encode('<script>alert(1)</script>');
    expect(await codeOf(await append(server, sha256Of(text), 0, text.length, text))).toBe('not-a-photo');
    expect(storedFiles(server.folder)).toEqual([]);
    await server.close();
  });

  test('says which of many photos are missing', async () => {
    const server = await testServer();
    const [here, half, absent] = [fakePhoto(4, 100), fakePhoto(5, 100), fakePhoto(6, 100)].map(
      (p) => [p, sha256Of(p)] as const,
    );
    await append(server, here![1], 0, 100, here![0]);
    await append(server, half![1], 0, 100, half![0].subarray(0, 40));
    expect((await server.post('/api/photos/wanted', { photos: [here![1], half![1], absent![1]] })).body).toEqual({
      photos: [
        { state: 'partial', offset: 40, sha256: half![1] },
        { state: 'absent', offset: 0, sha256: absent![1] },
      ],
    });
    await server.close();
  });

  test('the line drops at random points, before and after the server has acted: every photo arrives whole and once', async () => {
    const server = await testServer();
    await fc.assert(
      fc.asyncProperty(
        fc.nat(1e6),
        fc.infiniteStream(fc.constantFrom('goes', 'goes', 'lost', 'unheard')),
        async (seed, fates) => {
          const photo = fakePhoto(seed, 4 + (seed % 5000));
          const sha256 = sha256Of(photo);
          let drops = 0;
          let arrived = false;
          const line: Fetch = async (address, init) => {
            const fate = drops >= 20 || arrived ? 'goes' : (fates.next().value as string);
            if (fate !== 'goes') drops++;
            if (fate === 'lost') throw new TypeError('no network');
            const answer = await server.app.request(address, init);
            if (fate === 'unheard') throw new TypeError('the line broke before the answer');
            return answer;
          };
          const upload = () =>
            uploadPhoto(new Blob([photo as BlobPart]), sha256, { address: '', fetch: line, partBytes: 700 });
          let result = await upload();
          for (let tries = 0; !result.ok && tries < 40; tries++) result = await upload();
          expect(result.ok).toBe(true);
          expect(readFileSync(server.deps.photos.pathOf(sha256)).equals(photo)).toBe(true);
          arrived = true;
          expect(await upload()).toEqual({ ok: true, sentBytes: 0 });
        },
      ),
      { numRuns: 40 },
    );
    expect(new Set(storedFiles(server.folder)).size).toBe(storedFiles(server.folder).length);
    expect(readdirSync(join(server.folder, 'incoming'))).toEqual([]);
    expect(server.reported).toEqual([]);
    await server.close();
  });

  test('two tabs sending the same photo at once store it once', async () => {
    const server = await testServer();
    const photo = fakePhoto(7, 4000);
    const sha256 = sha256Of(photo);
    const upload = () =>
      uploadPhoto(new Blob([photo as BlobPart]), sha256, {
        address: '',
        fetch: (a, i) => server.app.request(a, i),
        partBytes: 300,
      });
    const results = await Promise.all([upload(), upload()]);
    expect(results.map((r) => r.ok)).toEqual([true, true]);
    expect(storedFiles(server.folder)).toEqual([sha256]);
    await server.close();
  });
});

describe('when the computer fails', () => {
  const broken = (step: keyof FileSteps, code: string, times: number): FileSteps => {
    let left = times;
    return {
      ...diskSteps,
      [step]: (...args: never[]) => {
        if (left-- > 0) return Promise.reject(Object.assign(new Error(`${code}: injected`), { code }));
        return (diskSteps[step] as (...a: never[]) => unknown)(...args);
      },
    } as FileSteps;
  };

  test('power fails between the last byte and the rename: no half photo, and it is finished after the restart', async () => {
    const folder = temporaryFolder();
    const photo = fakePhoto(8, 900);
    const sha256 = sha256Of(photo);
    const first = await testServer({}, broken('rename', 'EIO', 1), folder);
    expect((await append(first, sha256, 0, 900, photo)).status).toBe(500);
    expect(storedFiles(folder)).toEqual([]);
    await first.close();
    const second = await testServer({}, diskSteps, folder);
    expect((await second.get(`/api/photos/${sha256}/upload`)).body).toEqual({ state: 'partial', offset: 900 });
    const result = await uploadPhoto(new Blob([photo as BlobPart]), sha256, {
      address: '',
      fetch: (a, i) => second.app.request(a, i),
    });
    expect(result).toEqual({ ok: true, sentBytes: 0 });
    expect(readFileSync(second.deps.photos.pathOf(sha256)).equals(photo)).toBe(true);
    await second.close();
  });

  test('power fails between the rename and the database: the photo is recognised after the restart', async () => {
    const folder = temporaryFolder();
    const photo = fakePhoto(9, 900);
    const sha256 = sha256Of(photo);
    let flushes = 0;
    const steps: FileSteps = {
      ...diskSteps,
      flush: (path) => (++flushes === 2 ? Promise.reject(new Error('injected')) : diskSteps.flush(path)),
    };
    const first = await testServer({}, steps, folder);
    expect((await append(first, sha256, 0, 900, photo)).status).toBe(500);
    await first.close();
    const second = await testServer({}, diskSteps, folder);
    expect((await second.get(`/api/photos/${sha256}/upload`)).body).toEqual({ state: 'stored', offset: 900 });
    expect(storedFiles(folder)).toEqual([sha256]);
    await second.close();
  });

  test('a half part left by the power cut is found out by its hash, and the photo is sent again', async () => {
    const server = await testServer();
    const photo = fakePhoto(10, 900);
    const sha256 = sha256Of(photo);
    await append(server, sha256, 0, 900, photo.subarray(0, 300));
    await diskSteps.writeAt(join(server.folder, 'incoming', `${sha256}.part`), 300, new Uint8Array(100));
    const upload = () =>
      uploadPhoto(new Blob([photo as BlobPart]), sha256, { address: '', fetch: (a, i) => server.app.request(a, i) });
    expect(await upload()).toMatchObject({ ok: false, again: true, code: 'wrong-hash' });
    expect(await upload()).toMatchObject({ ok: true });
    await server.close();
  });

  test('the disk is full: said plainly, what was there stays, and it goes on when there is room', async () => {
    const photo = fakePhoto(11, 900);
    const sha256 = sha256Of(photo);
    let full = false;
    const steps: FileSteps = {
      ...diskSteps,
      writeAt: async (path, offset, bytes) => {
        if (!full) return diskSteps.writeAt(path, offset, bytes);
        await diskSteps.writeAt(path, offset, bytes.subarray(0, 10));
        throw Object.assign(new Error('ENOSPC: no space left on device'), { code: 'ENOSPC' });
      },
    };
    const server = await testServer({}, steps);
    await append(server, sha256, 0, 900, photo.subarray(0, 400));
    full = true;
    const refused = await append(server, sha256, 400, 900, photo.subarray(400));
    expect(refused.status).toBe(507);
    expect(((await refused.json()) as { error: { message: string } }).error.message).toBe(
      'Found no space left on the disk of this server; wanted free space in the data folder. ' +
        'Nothing stored before was lost. Free some space, then send again.',
    );
    expect((await server.get(`/api/photos/${sha256}/upload`)).body).toEqual({ state: 'partial', offset: 400 });
    full = false;
    expect(await (await append(server, sha256, 400, 900, photo.subarray(400))).json()).toEqual({
      state: 'stored',
      offset: 900,
    });
    await server.close();
  });
});
