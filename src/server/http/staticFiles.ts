import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { serveStatic } from '@hono/node-server/serve-static';
import { Hono } from 'hono';
import { fault } from '../faults.ts';

/** The built web app. Files named by their content are kept for good by browsers, the others are asked for each time. */
export function webApp(folder: string): Hono {
  const app = new Hono();
  app.use('*', async (c, next) => {
    await next();
    const forGood = /^\/assets\/.*-[\w-]{8,}\.\w+$/.test(c.req.path);
    if (c.res.ok) c.res.headers.set('Cache-Control', forGood ? 'public, max-age=31536000, immutable' : 'no-cache');
  });
  app.use('*', serveStatic({ root: folder }));
  // A page address without a file is a place inside the app.
  app.get('*', async (c, next) => {
    const isPage = !/\.\w+$/.test(c.req.path) && !c.req.path.startsWith('/api/');
    return isPage ? serveStatic({ root: folder, path: 'index.html' })(c, next) : next();
  });
  return app;
}

/** The page that shows the interface description, from the files of the installed package. */
export function docsPage(): Hono {
  const folder = dirname(createRequire(import.meta.url).resolve('swagger-ui-dist/package.json'));
  const files = ['swagger-ui.css', 'swagger-ui-bundle.js'];
  const app = new Hono();
  app.get('/', (c) =>
    c.html(
      '<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Rowledger: interface for programs</title>' +
        '<link rel="stylesheet" href="/docs/swagger-ui.css"></head><body><div id="page"></div>' +
        '<script src="/docs/swagger-ui-bundle.js"></script><script src="/docs/start.js"></script></body></html>',
    ),
  );
  app.get('/start.js', (c) =>
    c.body('SwaggerUIBundle({ url: "/openapi.json", dom_id: "#page", validatorUrl: null });', 200, {
      'Content-Type': 'text/javascript; charset=utf-8',
    }),
  );
  app.get('/:file', async (c, next) => {
    const file = c.req.param('file');
    if (!files.includes(file) || !existsSync(join(folder, file))) throw fault('not-found', `no file ${file}`);
    return serveStatic({ root: folder, path: file })(c, next);
  });
  return app;
}
