import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { uploadPhoto } from '../../src/server/client/uploadPhoto.ts';
import { HALF_KEPT_DAYS } from '../../src/server/files/clearIncoming.ts';
import { listen } from '../../src/server/listen.ts';
import { openArchive } from '../../src/server/openArchive.ts';
import { fakePhoto, sha256Of, temporaryFolder, testServer } from './support.ts';

/** Sends the head of a request and the first bytes of its body, then tears the line, politely or not. */
function sendHalf(address: string, head: readonly string[], body: Uint8Array, how: 'reset' | 'end'): Promise<void> {
  const { hostname, port } = new URL(address);
  return new Promise((resolve, reject) => {
    const socket = connect(Number(port), hostname, () => {
      socket.write(`${[...head, `Host: ${hostname}:${port}`].join('\r\n')}\r\n\r\n`);
      socket.write(body, () => {
        setTimeout(() => (how === 'reset' ? socket.resetAndDestroy() : socket.end()), 30);
      });
    });
    socket.resume().on('close', () => resolve());
    socket.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'ECONNRESET') reject(error);
    });
  });
}

describe('a client that goes away in the middle', () => {
  test.each(['reset', 'end'] as const)(
    'of a photo (%s) is no fault of the server, and the photo arrives later',
    async (how) => {
      const server = await testServer({ hosts: null });
      const listening = await listen(server.app, { host: '127.0.0.1', port: 0, tls: null });
      const photo = fakePhoto(40, 200_000);
      const sha256 = sha256Of(photo);
      const head = [
        `PATCH /api/photos/${sha256}/upload HTTP/1.1`,
        'Content-Type: application/offset+octet-stream',
        'Upload-Offset: 0',
        `Upload-Length: ${photo.length}`,
        `Content-Length: ${photo.length}`,
      ];
      for (let i = 0; i < 3; i++) await sendHalf(listening.address, head, photo.subarray(0, 70_000), how);
      await new Promise((resolve) => setTimeout(resolve, 200));
      expect(server.reported).toEqual([]);
      expect(await server.deps.photos.state(sha256)).toEqual({ state: 'absent', offset: 0 });
      const sent = await uploadPhoto(new Blob([photo as BlobPart]), sha256, {
        address: listening.address,
        fetch: (address, init) => fetch(address, init),
      });
      expect(sent).toEqual({ ok: true, sentBytes: photo.length });
      await listening.close();
      await server.close();
    },
  );

  test('of an archive leaves nothing behind and is not reported', async () => {
    const server = await testServer({ hosts: null });
    const listening = await listen(server.app, { host: '127.0.0.1', port: 0, tls: null });
    const head = ['POST /api/import HTTP/1.1', 'Content-Type: application/zip', 'Content-Length: 500000'];
    await sendHalf(listening.address, head, fakePhoto(41, 100_000), 'reset');
    await expect.poll(() => readdirSync(join(server.folder, 'incoming'))).toEqual([]);
    expect(server.reported).toEqual([]);
    await listening.close();
    await server.close();
  });

  test('of a download is not reported', async () => {
    const server = await testServer({ hosts: null });
    const photo = fakePhoto(42, 3_000_000);
    await server.deps.photos.append(sha256Of(photo), 0, photo.length, photo);
    const listening = await listen(server.app, { host: '127.0.0.1', port: 0, tls: null });
    const head = [`GET /api/photos/${sha256Of(photo)} HTTP/1.1`];
    await sendHalf(listening.address, head, new Uint8Array(0), 'reset');
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(server.reported).toEqual([]);
    expect((await fetch(`${listening.address}/api/status`)).status).toBe(200);
    await listening.close();
    await server.close();
  });

  test('while a fault of this computer is still reported', async () => {
    const broken = Object.assign(new Error('injected'), { code: 'EIO' });
    const server = await testServer({ photos: { state: () => Promise.reject(broken) } as never });
    expect((await server.get(`/api/photos/${'0'.repeat(64)}/upload`)).status).toBe(500);
    expect(server.reported).toEqual([broken]);
    await server.close();
  });
});

describe('halves left behind', () => {
  test(`are cleared at start after ${HALF_KEPT_DAYS} days, archives at once; everything else stays`, async () => {
    const folder = temporaryFolder();
    const incoming = join(folder, 'incoming');
    mkdirSync(incoming);
    const daysOld = (name: string, days: number) => {
      writeFileSync(join(incoming, name), 'half');
      const at = Date.now() / 1000 - days * 86_400;
      utimesSync(join(incoming, name), at, at);
    };
    const [fresh, old] = ['a'.repeat(64), 'b'.repeat(64)];
    daysOld(`${fresh}.part`, HALF_KEPT_DAYS - 0.1);
    daysOld(`${old}.part`, HALF_KEPT_DAYS + 0.1);
    daysOld('left.zip', 0);
    daysOld('notes.txt', 400);
    const archive = await openArchive(folder);
    expect(readdirSync(incoming).sort()).toEqual([`${fresh}.part`, 'notes.txt']);
    expect(await archive.photos.state(fresh)).toEqual({ state: 'partial', offset: 4 });
    expect(await archive.photos.state(old)).toEqual({ state: 'absent', offset: 0 });
    await archive.close();
  });

  test('an empty archive has none', async () => {
    const folder = temporaryFolder();
    await (await openArchive(folder)).close();
    expect(existsSync(join(folder, 'incoming'))).toBe(true);
  });
});
