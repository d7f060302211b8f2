import { createRoute, z } from '@hono/zod-openapi';
import type { SignIn } from '../http/signIn.ts';
import { gives, router } from './parts.ts';

const answer = z.object({
  needed: z.boolean().describe('false: this server asks for no passphrase'),
  signedIn: z.boolean(),
});

const ask = createRoute({
  method: 'get',
  path: '/api/session',
  summary: 'Whether a passphrase is wanted, and was given',
  responses: gives(answer, 'The state of this browser'),
});

const open = createRoute({
  method: 'post',
  path: '/api/session',
  summary: 'Sign in with the passphrase of this server',
  request: {
    body: {
      required: true,
      content: { 'application/json': { schema: z.object({ passphrase: z.string().max(1000) }) } },
    },
  },
  responses: gives(answer, 'Signed in: a cookie is set'),
});

const close = createRoute({
  method: 'delete',
  path: '/api/session',
  summary: 'Sign out',
  responses: gives(answer, 'Signed out'),
});

export const sessionRoutes = (signIn: SignIn) =>
  router()
    .openapi(ask, (c) => c.json({ needed: signIn.isNeeded, signedIn: signIn.isIn(c) }, 200))
    .openapi(open, (c) => {
      signIn.open(c, c.req.valid('json').passphrase);
      return c.json({ needed: signIn.isNeeded, signedIn: true }, 200);
    })
    .openapi(close, (c) => {
      signIn.close(c);
      return c.json({ needed: signIn.isNeeded, signedIn: !signIn.isNeeded }, 200);
    });
