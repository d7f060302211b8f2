/** Degrees, WGS 84, with the phone's own idea of its error. */
export interface Fix {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly errorM: number;
  readonly atMs: number;
}

/** What is known of where the phone is. */
export interface Whereabouts {
  /** The last position, however old; null: none yet, or none allowed. */
  readonly fix: Fix | null;
  /**
   * `searching`: none now, another may come (under trees, a sensor that wakes up). `refused`: the person said no.
   * `no sensor`: this browser has none. Null: the fix is the newest word.
   */
  readonly trouble: 'searching' | 'refused' | 'no sensor' | null;
}

const REFUSED = 1;

/**
 * Follows the position while a walk is on. A failure that may pass keeps the last position, with its age, and goes on;
 * only a refusal ends it (W3C Geolocation, section 7.1: PERMISSION_DENIED is 1). Returns how to stop.
 *
 * @param last what was known before.
 */
export function watchPosition(last: Fix | null, onChange: (now: Whereabouts) => void): () => void {
  if (!('geolocation' in navigator)) {
    onChange({ fix: null, trouble: 'no sensor' });
    return () => undefined;
  }
  let fix = last;
  const stop = () => navigator.geolocation.clearWatch(watch);
  const watch = navigator.geolocation.watchPosition(
    ({ coords }) => {
      fix = {
        latitudeDeg: Number(coords.latitude.toFixed(6)),
        longitudeDeg: Number(coords.longitude.toFixed(6)),
        errorM: coords.accuracy,
        atMs: Date.now(),
      };
      onChange({ fix, trouble: null });
    },
    ({ code }) => {
      if (code !== REFUSED) return onChange({ fix, trouble: 'searching' });
      onChange({ fix: null, trouble: 'refused' });
      stop();
    },
    { enableHighAccuracy: true, maximumAge: 15_000 },
  );
  return stop;
}
