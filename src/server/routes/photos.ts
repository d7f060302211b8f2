import { Readable } from 'node:stream';
import { createRoute, z } from '@hono/zod-openapi';
import type { AppDeps } from '../appDeps.ts';
import { fault } from '../faults.ts';
import { countOfPhoto } from '../store/countOfPhoto.ts';
import { givesBytes, router, sha256 } from './parts.ts';

const photo = z.object({ sha256 });

const original = createRoute({
  method: 'get',
  path: '/api/photos/{sha256}',
  summary: 'The original, byte for byte',
  request: { params: photo },
  responses: givesBytes('image/*', 'The photo as the camera wrote it'),
});

const thumbnail = createRoute({
  method: 'get',
  path: '/api/photos/{sha256}/thumbnail',
  summary: 'The photo, small and upright',
  request: { params: photo, query: z.object({ side: z.enum(['160', '320', '640', '1280']).default('320') }) },
  responses: givesBytes('image/webp', 'At most so many pixels on its longer side'),
});

const strip = createRoute({
  method: 'get',
  path: '/api/photos/{sha256}/strip',
  summary: 'The row, straightened by the newest count of this photo',
  request: { params: photo },
  responses: givesBytes('image/webp', 'The strip, from low readings on the left'),
});

export const photoRoutes = ({ db, photos, derived }: AppDeps) => {
  const stored = async (hash: string) => {
    const found = await photos.find(hash);
    if (found === undefined) throw fault('no-photo', `no file for photo ${hash.slice(0, 12)}`);
    return found;
  };
  const headers = (type: string, forGood: boolean) => ({
    'Content-Type': type,
    'Content-Disposition': 'inline',
    'Cache-Control': forGood ? 'private, max-age=31536000, immutable' : 'private, no-cache',
  });
  return router()
    .openapi(original, async (c) => {
      const { type, bytes, sha256: hash } = await stored(c.req.valid('param').sha256);
      const body = Readable.toWeb(photos.read(hash)) as ReadableStream;
      return c.body(body, 200, { ...headers(type, true), 'Content-Length': String(bytes) }) as never;
    })
    .openapi(thumbnail, async (c) => {
      const found = await stored(c.req.valid('param').sha256);
      const picture = await derived.thumbnail(found, photos.pathOf(found.sha256), Number(c.req.valid('query').side));
      return c.body(new Uint8Array(picture), 200, headers('image/webp', true)) as never;
    })
    .openapi(strip, async (c) => {
      const found = await stored(c.req.valid('param').sha256);
      const count = await countOfPhoto(db, found.sha256);
      if (count === null) throw fault('no-strip', 'no count of this photo');
      const picture = await derived.strip(found, photos.pathOf(found.sha256), count);
      return c.body(new Uint8Array(picture), 200, headers('image/webp', false)) as never;
    });
};
