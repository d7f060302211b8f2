import { afterEach, describe, expect, test, vi } from 'vitest';
import { type Fix, type Whereabouts, watchPosition } from '../../src/browser/sensors/watchPosition.ts';
import { fixNow, noPositionText } from '../../src/ui/state/fix.ts';

/** Numbers of the W3C Geolocation specification, section 7.1. */
const [REFUSED, UNAVAILABLE, TIMEOUT] = [1, 2, 3];

/** A sensor that says what it is told to say, as long as it is watched. */
function sensor() {
  const watched = new Map<number, { ok: PositionCallback; no: PositionErrorCallback }>();
  const geolocation = {
    watchPosition: (ok: PositionCallback, no: PositionErrorCallback) => {
      watched.set(watched.size + 1, { ok, no });
      return watched.size;
    },
    clearWatch: (id: number) => void watched.delete(id),
  };
  vi.stubGlobal('navigator', { geolocation });
  const coords = (latitude: number) => ({ coords: { latitude, longitude: -99, accuracy: 5 } }) as GeolocationPosition;
  return {
    stands: (latitude: number) => {
      for (const { ok } of [...watched.values()]) ok(coords(latitude));
    },
    fails: (code: number) => {
      for (const { no } of [...watched.values()]) no({ code } as GeolocationPositionError);
    },
    isWatched: () => watched.size > 0,
  };
}

function follow(last: Fix | null = null) {
  const said: Whereabouts[] = [];
  const stop = watchPosition(last, (now) => said.push(now));
  return { said, stop, now: () => said.at(-1)! };
}

describe('the position on a walk', () => {
  afterEach(() => vi.unstubAllGlobals());

  test.each([
    ['no position just now', UNAVAILABLE],
    ['a timeout', TIMEOUT],
  ])('%s keeps the last one with its age, and the next one is taken', (_name, code) => {
    const phone = sensor();
    const walk = follow();
    phone.stands(45.1);
    const { fix } = walk.now();
    expect(fix?.latitudeDeg).toBe(45.1);
    phone.fails(code);
    expect(walk.now()).toEqual({ fix, trouble: 'searching' });
    expect(phone.isWatched()).toBe(true);
    phone.stands(45.2);
    expect(walk.now()).toMatchObject({ fix: { latitudeDeg: 45.2 }, trouble: null });
  });

  test('a refusal is final: nothing is known any more, and nothing asked', () => {
    const phone = sensor();
    const walk = follow();
    phone.stands(45.1);
    phone.fails(REFUSED);
    expect(walk.now()).toEqual({ fix: null, trouble: 'refused' });
    expect(phone.isWatched()).toBe(false);
  });

  test('a failure before the first position on a page leaves what was known from the page before', () => {
    const phone = sensor();
    const before: Fix = { latitudeDeg: 45, longitudeDeg: -99, errorM: 4, atMs: 1000 };
    const walk = follow(before);
    phone.fails(UNAVAILABLE);
    expect(walk.now()).toEqual({ fix: before, trouble: 'searching' });
    walk.stop();
    expect(phone.isWatched()).toBe(false);
  });

  test('a browser without a sensor says so', () => {
    vi.stubGlobal('navigator', {});
    expect(follow().said).toEqual([{ fix: null, trouble: 'no sensor' }]);
  });
});

describe('a position that grows old', () => {
  const fix: Fix = { latitudeDeg: 45, longitudeDeg: -99, errorM: 4, atMs: new Date(2026, 5, 18, 9, 5).getTime() };

  test('is here for a minute, then was there; never while a newer one is looked for', () => {
    expect(fixNow(fix.atMs + 59_000, { fix, trouble: null })).toBe(fix);
    expect(fixNow(fix.atMs + 61_000, { fix, trouble: null })).toBeNull();
    expect(fixNow(fix.atMs + 1000, { fix, trouble: 'searching' })).toBeNull();
  });

  test('is told with its time; what will not come is told apart from what may', () => {
    expect(noPositionText({ fix, trouble: 'searching' })).toBe('No position now, last at 09:05');
    expect(noPositionText({ fix: null, trouble: 'searching' })).toBe('No position yet');
    expect(noPositionText({ fix: null, trouble: 'refused' })).toBe('Position not allowed for this page');
    expect(noPositionText({ fix: null, trouble: 'no sensor' })).toBe('No position on this device');
  });
});
