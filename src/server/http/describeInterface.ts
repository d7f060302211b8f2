import type { OpenAPIHono } from '@hono/zod-openapi';
import { faultBody } from '../routes/parts.ts';

const bytes = (type: string) => ({ [type]: { schema: { type: 'string', format: 'binary' } as const } });
/** Bodies that are bytes, read by the routes themselves. */
const BYTES: Readonly<Record<string, ReturnType<typeof bytes>>> = {
  '/api/photos/{sha256}/upload': bytes('application/offset+octet-stream'),
  '/api/import': bytes('application/zip'),
};

/** The OpenAPI 3.1 document of the app, with how every route refuses. */
export function describeInterface(app: OpenAPIHono, version: string) {
  app.openAPIRegistry.register('Fault', faultBody);
  const document = app.getOpenAPI31Document({
    openapi: '3.1.0',
    info: {
      title: 'Rowledger',
      version,
      description: 'Stand assessment: the archive of a company, its photos, and what its devices recorded.',
      license: { name: 'MIT' },
    },
  });
  const schema = { $ref: '#/components/schemas/Fault' };
  const refused = { description: 'Refused', content: { 'application/json': { schema } } };
  for (const [path, item] of Object.entries(document.paths ?? {})) {
    for (const method of ['get', 'post', 'patch', 'delete'] as const) {
      const operation = item[method];
      if (operation === undefined) continue;
      operation.responses = { ...operation.responses, default: refused };
      const content = BYTES[path];
      if (content !== undefined && method !== 'get') operation.requestBody = { required: true, content };
    }
  }
  return document;
}
