import { hc } from 'hono/client';
import type { AppType } from '../app.ts';

/**
 * A typed client of the server: `client.api.things[':kind'].$get({ param: { kind: 'visit' }, query: {} })`. Holds none of
 * the server's code. `fetch` can be the app's own `request`, as in tests.
 *
 * @param address where the server is; '/' from its own pages.
 */
export function createClient(address: string, fetcher?: typeof fetch) {
  return hc<AppType>(address, fetcher === undefined ? {} : { fetch: fetcher });
}

export type Client = ReturnType<typeof createClient>;
