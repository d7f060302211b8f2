import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createRoute, z } from '@hono/zod-openapi';
import { bodyLimit } from 'hono/body-limit';
import type { AppDeps } from '../appDeps.ts';
import { exportArchive } from '../archive/exportArchive.ts';
import { importArchive } from '../archive/importArchive.ts';
import { fault } from '../faults.ts';
import { archiveHash } from '../store/contentHash.ts';
import { gives, givesBytes, name, router } from './parts.ts';

/** The largest archive file that is taken in through the network. */
const MOST_IMPORT_BYTES = 256 * 1024 ** 3;

const exported = createRoute({
  method: 'get',
  path: '/api/export',
  summary: 'The whole archive, or one field, as a zip',
  request: { query: z.object({ field: name.optional() }) },
  responses: givesBytes('application/zip', 'Records, photos, documents, counts as CSV, fields and spots as GeoJSON'),
});

const imported = createRoute({
  method: 'post',
  path: '/api/import',
  summary: 'Read in an exported archive',
  description: 'The body is the zip file, of type application/zip. Nothing here is overwritten.',
  responses: gives(
    z.object({
      records: z.number().int().describe('new ones'),
      knownRecords: z.number().int(),
      photos: z.number().int().describe('new ones'),
      knownPhotos: z.number().int(),
      missingPhotos: z.number().int(),
      contentHash: z.string(),
    }),
    'What was read in',
  ),
});

const hash = createRoute({
  method: 'get',
  path: '/api/hash',
  summary: 'One hash over every record and photo: equal hashes, equal archives',
  responses: gives(z.object({ contentHash: z.string() }), 'The hash'),
});

/** @param refile is told when other targets came in. */
export const archiveRoutes = (deps: AppDeps, refile: () => void) => {
  const app = router();
  const onError = () => {
    throw fault('too-large', `more than ${MOST_IMPORT_BYTES} bytes`);
  };
  app.on('POST', '/api/import', bodyLimit({ maxSize: MOST_IMPORT_BYTES, onError }));
  return app
    .openapi(hash, async (c) => c.json({ contentHash: await archiveHash(deps.db) }, 200))
    .openapi(exported, async (c) => {
      const field = c.req.valid('query').field ?? null;
      const stream = await exportArchive(deps, field);
      const file = `rowledger-${field === null ? 'archive' : 'field'}-${deps.now().slice(0, 10)}.zip`;
      return c.body(Readable.toWeb(stream) as ReadableStream, 200, {
        'Content-Type': 'application/zip',
        'Content-Disposition': `attachment; filename="${file}"`,
        'Cache-Control': 'no-store',
      }) as never;
    })
    .openapi(imported, async (c) => {
      const type = c.req.header('content-type') ?? 'none';
      if (type !== 'application/zip')
        throw fault('wrong-type', `the content type ${type}`, { wanted: 'application/zip' });
      const folder = join(deps.folder, 'incoming');
      const path = join(folder, `${deps.newId()}.zip`);
      await deps.steps.makeFolder(folder);
      try {
        const body = c.req.raw.body;
        if (body === null) throw fault('not-an-archive', 'an empty body');
        await pipeline(Readable.fromWeb(body as never), deps.steps.write(path));
        const { targets, ...told } = await importArchive(deps, path);
        if (targets) refile();
        return c.json(told, 200);
      } finally {
        await deps.steps.remove(path).catch(() => undefined);
      }
    });
};
