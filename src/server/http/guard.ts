import type { MiddlewareHandler } from 'hono';
import { fault } from '../faults.ts';

/**
 * Refuses requests under a foreign host name (a page elsewhere that had its name point at this computer) and writes
 * that another site's page started. There is no CORS: only this server's own pages are served.
 */
export function guard(hosts: readonly string[] | null): MiddlewareHandler {
  return async (c, next) => {
    const url = new URL(c.req.url);
    const host = url.hostname.replace(/^\[|\]$/g, '');
    if (hosts !== null && !hosts.includes(host)) throw fault('wrong-origin', `the host name ${host}`);
    const origin = c.req.header('origin');
    const reads = c.req.method === 'GET' || c.req.method === 'HEAD';
    if (!reads && origin !== undefined && hostOf(origin) !== url.host) {
      throw fault('wrong-origin', `a request from a page of ${origin}`);
    }
    await next();
  };
}

function hostOf(origin: string): string | null {
  return URL.canParse(origin) ? new URL(origin).host : null;
}
