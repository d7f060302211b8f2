import { createRoute, z } from '@hono/zod-openapi';
import { bodyLimit } from 'hono/body-limit';
import type { AppDeps } from '../appDeps.ts';
import { fault } from '../faults.ts';
import { MOST_PHOTO_BYTES } from '../files/photoStore.ts';
import { gives, router, sha256 } from './parts.ts';

/** The most bytes of a photo in one request: small, so that a thin line loses little when it breaks. */
export const MOST_PART_BYTES = 8 * 1024 * 1024;

const PART_TYPE = 'application/offset+octet-stream';

const uploadState = z
  .object({
    state: z.enum(['stored', 'partial', 'absent']),
    offset: z.number().int().describe('bytes that are here: go on from this one'),
  })
  .openapi('UploadState');

const ask = createRoute({
  method: 'get',
  path: '/api/photos/{sha256}/upload',
  summary: 'How much of a photo is here',
  request: { params: z.object({ sha256 }) },
  responses: gives(uploadState, 'The state'),
});

const whole = z.coerce.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

const append = createRoute({
  method: 'patch',
  path: '/api/photos/{sha256}/upload',
  summary: 'The next bytes of a photo',
  description:
    `The body is the bytes themselves, of type ${PART_TYPE}, at most ${MOST_PART_BYTES} of them. With the last ones ` +
    'the photo is verified against its SHA-256 and kept. Bytes of a photo that is here already are ignored.',
  request: {
    params: z.object({ sha256 }),
    headers: z.object({
      'upload-offset': whole.openapi({ description: 'place of the first byte of this part' }),
      'upload-length': whole.openapi({ description: 'bytes of the whole photo' }),
    }),
  },
  responses: gives(uploadState, 'The state after it'),
});

const wanted = createRoute({
  method: 'post',
  path: '/api/photos/wanted',
  summary: 'Which of these photos are not here yet',
  request: {
    body: {
      required: true,
      content: { 'application/json': { schema: z.object({ photos: z.array(sha256).max(500) }) } },
    },
  },
  responses: gives(
    z.object({ photos: z.array(uploadState.extend({ sha256 })) }),
    'Those that are missing, and how much of each is here',
  ),
});

export const uploadRoutes = ({ photos }: AppDeps) => {
  const app = router();
  app.on(
    'PATCH',
    '/api/photos/:sha256/upload',
    bodyLimit({
      maxSize: MOST_PART_BYTES,
      onError: () => {
        throw fault('too-large', `more than ${MOST_PART_BYTES} bytes at once`, {
          wanted: `at most ${MOST_PART_BYTES}`,
        });
      },
    }),
  );
  return app
    .openapi(ask, async (c) => c.json(await photos.state(c.req.valid('param').sha256), 200))
    .openapi(append, async (c) => {
      const type = c.req.header('content-type') ?? 'none';
      if (type !== PART_TYPE) throw fault('wrong-type', `the content type ${type}`, { wanted: PART_TYPE });
      const { 'upload-offset': offset, 'upload-length': length } = c.req.valid('header');
      if (length > MOST_PHOTO_BYTES) {
        throw fault('too-large', `a photo of ${length} bytes`, { wanted: `at most ${MOST_PHOTO_BYTES} bytes` });
      }
      const bytes = new Uint8Array(await c.req.arrayBuffer());
      return c.json(await photos.append(c.req.valid('param').sha256, offset, length, bytes), 200);
    })
    .openapi(wanted, async (c) => {
      const asked = [...new Set(c.req.valid('json').photos)];
      const states = (await photos.states(asked)).map((state, i) => ({ ...state, sha256: asked[i] as string }));
      const missing = states.filter(({ state }) => state !== 'stored');
      return c.json({ photos: missing }, 200);
    });
};
