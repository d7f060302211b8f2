import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { FAULTS } from '../../src/server/faults.ts';
import { temporaryFolder, testServer } from './support.ts';

const codeOf = async (answer: Response) => ((await answer.json()) as { error: { code: string } }).error.code;

describe('who may ask', () => {
  test('without a passphrase only under this computer’s own names', async () => {
    const server = await testServer();
    expect((await server.app.request('http://localhost/api/status')).status).toBe(200);
    const rebound = await server.app.request('http://evil.example/api/status');
    expect([rebound.status, await codeOf(rebound)]).toEqual([403, 'wrong-origin']);
    await server.close();
  });

  test('a page of another site cannot write', async () => {
    const server = await testServer();
    const init = {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: '{"records":[],"after":null}',
    };
    const from = (origin: string) =>
      server.app.request('http://localhost/api/sync', { ...init, headers: { ...init.headers, Origin: origin } });
    expect((await from('http://localhost')).status).toBe(200);
    expect(await codeOf(await from('https://evil.example'))).toBe('wrong-origin');
    expect(await codeOf(await from('null'))).toBe('wrong-origin');
    expect(
      (await server.app.request('http://localhost/api/status')).headers.get('access-control-allow-origin'),
    ).toBeNull();
    await server.close();
  });

  test('with a passphrase: a cookie for pages, a bearer for programs, and ten wrong tries a minute', async () => {
    let minute = 10;
    const token = 'correct horse battery';
    const server = await testServer({ token, hosts: null, now: () => `2026-06-20T10:${minute}:00.000Z` });
    const ask = (headers: Record<string, string> = {}) =>
      server.app.request('http://farm.example/api/status', { headers });
    const signIn = (passphrase: string) =>
      server.app.request('http://farm.example/api/session', {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: JSON.stringify({ passphrase }),
      });
    expect(await codeOf(await ask())).toBe('not-signed-in');
    expect((await ask({ Authorization: `Bearer ${token}` })).status).toBe(200);
    const cookie = (await signIn(token)).headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/^rowledger_session=[0-9a-f]{64};.*HttpOnly.*SameSite=Strict/);
    expect(cookie).not.toContain(token);
    expect((await ask({ Cookie: cookie.split(';')[0] as string })).status).toBe(200);
    for (let i = 0; i < 10; i++) expect(await codeOf(await signIn('wrong'))).toBe('not-signed-in');
    expect((await signIn(token)).status).toBe(429);
    expect((await ask({ Authorization: `Bearer ${token}` })).status).toBe(429);
    minute++;
    expect((await signIn(token)).status).toBe(200);
    await server.close();
  });
});

describe('what is sent along', () => {
  test('headers isolate the page, let WebAssembly run, and load nothing from elsewhere', async () => {
    const server = await testServer();
    const { headers } = await server.app.request('/api/status');
    expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
    expect(headers.get('cross-origin-embedder-policy')).toBe('require-corp');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('permissions-policy')).toContain('camera=(self)');
    const policy = headers.get('content-security-policy') ?? '';
    expect(policy).toContain("script-src 'self' 'wasm-unsafe-eval'");
    expect(policy).toContain("worker-src 'self' blob:");
    expect(policy).not.toContain("'unsafe-inline'");
    expect(policy).not.toMatch(/https?:/);
    await server.close();
  });

  test('the built web app is served, its addresses lead to it, and nothing outside its folder does', async () => {
    const folder = temporaryFolder();
    mkdirSync(join(folder, 'ui', 'assets'), { recursive: true });
    writeFileSync(join(folder, 'ui', 'index.html'), '<!doctype html><title>app</title>');
    writeFileSync(join(folder, 'ui', 'sw.js'), '// worker');
    writeFileSync(join(folder, 'ui', 'assets', 'main-a1b2c3d4.js'), '// main');
    writeFileSync(join(folder, 'secret.txt'), 'secret');
    const server = await testServer({ uiFolder: join(folder, 'ui') });
    const get = async (path: string) => {
      const answer = await server.app.request(path);
      return [answer.status, answer.headers.get('cache-control'), (await answer.text()).slice(0, 15)];
    };
    expect(await get('/')).toEqual([200, 'no-cache', '<!doctype html>']);
    expect(await get('/visits/v1')).toEqual([200, 'no-cache', '<!doctype html>']);
    expect(await get('/sw.js')).toEqual([200, 'no-cache', '// worker']);
    expect(await get('/assets/main-a1b2c3d4.js')).toEqual([200, 'public, max-age=31536000, immutable', '// main']);
    for (const path of ['/../secret.txt', '/%2e%2e/secret.txt', '/..%2fsecret.txt', '/assets/..%2f..%2fsecret.txt']) {
      expect((await get(path))[2]).not.toBe('secret');
    }
    expect((await get('/api/nothing'))[0]).toBe(404);
    expect((await get('/missing.js'))[0]).toBe(404);
    await server.close();
  });
});

describe('how it refuses', () => {
  test('in one shape: what was found, what was wanted, what to do next', async () => {
    const server = await testServer();
    expect(await server.get('/api/things/visit/nobody')).toEqual({
      status: 404,
      body: {
        error: {
          code: 'not-found',
          found: 'no visit nobody',
          wanted: FAULTS['not-found'][1],
          next: FAULTS['not-found'][2],
          message: `Found no visit nobody; wanted ${FAULTS['not-found'][1]}. ${FAULTS['not-found'][2]}`,
          facts: {},
        },
      },
    });
    await server.close();
  });

  test('bodies that are too large, of another type, or no JSON', async () => {
    const server = await testServer();
    const post = (type: string, body: string) =>
      server.app.request('/api/sync', { method: 'POST', headers: { 'Content-Type': type }, body });
    expect(await codeOf(await post('text/plain', '{}'))).toBe('wrong-type');
    expect(await codeOf(await post('application/json', '{"records":'))).toBe('bad-request');
    expect(await codeOf(await post('application/json', '{"records":[]}'))).toBe('bad-request');
    expect(await codeOf(await post('application/json', `{"records":["${'x'.repeat(17 * 1024 * 1024)}"]}`))).toBe(
      'too-large',
    );
    expect(server.reported).toEqual([]);
    await server.close();
  });

  test('an unexpected failure tells the outside nothing of its inside', async () => {
    const server = await testServer({ archiveId: null as never, db: null as never });
    const answer = await server.get('/api/status');
    expect(answer).toMatchObject({
      status: 500,
      body: { error: { code: 'server-fault', found: 'an unexpected failure' } },
    });
    expect(server.reported).toHaveLength(1);
    await server.close();
  });
});

describe('the interface description', () => {
  test('is OpenAPI 3.1, names every route, and its page loads nothing from elsewhere', async () => {
    const server = await testServer();
    const { body } = await server.get('/openapi.json');
    const document = body as {
      openapi: string;
      paths: Record<string, Record<string, { responses: object; summary?: string }>>;
    };
    expect(document.openapi).toBe('3.1.0');
    const routes = Object.entries(document.paths).flatMap(([path, item]) =>
      Object.keys(item).map((m) => `${m} ${path}`),
    );
    const served = server.app.routes
      .filter((route) => route.path.startsWith('/api/') && !route.path.endsWith('*') && route.method !== 'ALL')
      .map((route) => `${route.method.toLowerCase()} ${route.path.replace(/:(\w+)/g, '{$1}')}`);
    expect([...new Set(served)].sort()).toEqual(routes.sort());
    for (const item of Object.values(document.paths)) {
      for (const operation of Object.values(item)) {
        expect(operation.summary).toBeTruthy();
        expect(Object.keys(operation.responses)).toEqual(expect.arrayContaining(['200', 'default']));
      }
    }
    const page = await (await server.app.request('/docs')).text();
    expect([...page.matchAll(/(?:src|href)="([^"]+)"/g)].map((m) => m[1])).toEqual([
      '/docs/swagger-ui.css',
      '/docs/swagger-ui-bundle.js',
      '/docs/start.js',
    ]);
    for (const path of ['/docs/swagger-ui.css', '/docs/swagger-ui-bundle.js', '/docs/start.js']) {
      expect((await server.app.request(path)).status).toBe(200);
    }
    expect((await server.app.request('/docs/package.json')).status).toBe(404);
    await server.close();
  });
});
