import { OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import type { AppDeps } from './appDeps.ts';
import { asFault, type FaultBody, fault } from './faults.ts';
import { describeInterface } from './http/describeInterface.ts';
import { guard } from './http/guard.ts';
import { headers } from './http/headers.ts';
import { createSignIn } from './http/signIn.ts';
import { docsPage, webApp } from './http/staticFiles.ts';
import { archiveRoutes } from './routes/archive.ts';
import { choiceRoutes } from './routes/choices.ts';
import { fieldRoutes } from './routes/fields.ts';
import { photoRoutes } from './routes/photos.ts';
import { sessionRoutes } from './routes/session.ts';
import { spotRoutes } from './routes/spots.ts';
import { statusRoutes } from './routes/status.ts';
import { syncRoutes } from './routes/sync.ts';
import { targetRoutes } from './routes/targets.ts';
import { thingRoutes } from './routes/things.ts';
import { uploadRoutes } from './routes/uploads.ts';
import { refiling } from './store/ownTargets.ts';

const MOST_JSON_BYTES = 16 * 1024 * 1024;

/** What a typed client needs to know of the server: `hc<AppType>(address)`. */
export type AppType = ReturnType<typeof createApi>;

/** The whole server as a value: pass a request, get an answer. */
export function createApp(deps: AppDeps) {
  const signIn = createSignIn(deps.token, deps.now);
  const app = new OpenAPIHono();
  app.use('*', headers());
  app.use('*', guard(deps.hosts));
  app.use('/api/*', signIn.wanted);
  app.on('POST', ['/api/sync', '/api/session', '/api/photos/wanted'], jsonOnly());
  const api = createApi(deps, signIn);
  app.route('/', api);
  app.get('/openapi.json', (c) => c.json(describeInterface(app, deps.version)));
  app.get('/docs/', (c) => c.redirect('/docs'));
  app.route('/docs', docsPage());
  if (deps.uiFolder !== null) app.route('/', webApp(deps.uiFolder));
  app.notFound((c) => told(c, deps, fault('not-found', `no ${c.req.method} ${c.req.path}`)));
  app.onError((error, c) => told(c, deps, error));
  return app;
}

function createApi(deps: AppDeps, signIn: ReturnType<typeof createSignIn>) {
  const refile = refiling(deps.db, deps.report);
  return new OpenAPIHono()
    .route('/', statusRoutes(deps))
    .route('/', sessionRoutes(signIn))
    .route('/', fieldRoutes(deps))
    .route('/', choiceRoutes(deps))
    .route('/', spotRoutes(deps))
    .route('/', thingRoutes(deps))
    .route('/', syncRoutes(deps, refile))
    .route('/', uploadRoutes(deps))
    .route('/', photoRoutes(deps))
    .route('/', targetRoutes(deps))
    .route('/', archiveRoutes(deps, refile));
}

function jsonOnly() {
  const limit = bodyLimit({
    maxSize: MOST_JSON_BYTES,
    onError: () => {
      throw fault('too-large', `more than ${MOST_JSON_BYTES} bytes`, { wanted: `at most ${MOST_JSON_BYTES} bytes` });
    },
  });
  return (c: Context, next: () => Promise<void>) => {
    const type = c.req.header('content-type') ?? 'none';
    if (!/^application\/json\s*(;|$)/.test(type)) {
      throw fault('wrong-type', `the content type ${type}`, { wanted: 'application/json' });
    }
    return limit(c, next);
  };
}

function told(c: Context, deps: AppDeps, error: unknown) {
  const isMalformed = error instanceof Error && 'status' in error && error.status === 400 && !('fault' in error);
  const found = isMalformed ? fault('bad-request', error.message || 'a body that is not JSON') : asFault(error);
  if (found.fault.code === 'server-fault') deps.report(error);
  const body: FaultBody = { error: found.fault };
  return c.json(body, found.status as ContentfulStatusCode);
}
