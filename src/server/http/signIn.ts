import { createHmac, timingSafeEqual } from 'node:crypto';
import { getConnInfo } from '@hono/node-server/conninfo';
import type { Context, MiddlewareHandler } from 'hono';
import { deleteCookie, getCookie, setCookie } from 'hono/cookie';
import { fault } from '../faults.ts';

const COOKIE = 'rowledger_session';
const MOST_TRIES_A_MINUTE = 10;
const YEAR_S = 365 * 24 * 3600;

export type SignIn = ReturnType<typeof createSignIn>;

/**
 * One shared passphrase, sent once by the page and kept as a cookie that scripts cannot read, or sent by programs as
 * `Authorization: Bearer`. The cookie is derived from the passphrase, so a restart signs nobody out and a new
 * passphrase signs everybody out.
 */
export function createSignIn(token: string | null, now: () => string) {
  const session = token === null ? '' : createHmac('sha256', token).update('session 1').digest('hex');
  const tries = new Map<string, { minute: string; count: number }>();

  const isIn = (c: Context): boolean => {
    if (token === null) return true;
    const bearer = /^Bearer (.+)$/.exec(c.req.header('authorization') ?? '')?.[1];
    if (bearer !== undefined) {
      countTry(c, false);
      if (same(bearer, token)) return true;
      countTry(c, true);
    }
    return same(getCookie(c, COOKIE) ?? '', session);
  };

  /** Throws the fault "too-many-tries" after ten wrong ones from one address within a minute. */
  const countTry = (c: Context, wrong: boolean): void => {
    const address = addressOf(c);
    const minute = now().slice(0, 16);
    const before = tries.get(address);
    const count = before?.minute === minute ? before.count : 0;
    if (count >= MOST_TRIES_A_MINUTE) throw fault('too-many-tries', `${count} wrong passphrases from this address`);
    if (!wrong) return;
    if (tries.size > 10_000) tries.clear();
    tries.set(address, { minute, count: count + 1 });
  };

  const open = (c: Context, passphrase: string): void => {
    countTry(c, false);
    if (token !== null && !same(passphrase, token)) {
      countTry(c, true);
      throw fault('not-signed-in', 'another passphrase');
    }
    const secure = new URL(c.req.url).protocol === 'https:';
    setCookie(c, COOKIE, session, { httpOnly: true, sameSite: 'Strict', path: '/', maxAge: YEAR_S, secure });
  };

  const close = (c: Context): void => {
    deleteCookie(c, COOKIE, { path: '/' });
  };

  const wanted: MiddlewareHandler = async (c, next) => {
    if (c.req.path !== '/api/session' && !isIn(c)) throw fault('not-signed-in', 'no passphrase, or another one');
    await next();
  };

  return { isIn, open, close, wanted, isNeeded: token !== null };
}

function same(a: string, b: string): boolean {
  const digest = (text: string) => createHmac('sha256', 'compare').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}

function addressOf(c: Context): string {
  try {
    return getConnInfo(c).remote.address ?? 'unknown';
  } catch {
    // Called without a connection, as in tests.
    return 'unknown';
  }
}
