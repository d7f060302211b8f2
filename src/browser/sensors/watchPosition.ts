/** Degrees, WGS 84, with the phone's own idea of its error. */
export interface Fix {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly errorM: number;
  readonly atMs: number;
}

/** Follows the position while a walk is on; null when it is not allowed or not known. Returns how to stop. */
export function watchPosition(onFix: (fix: Fix | null) => void): () => void {
  if (!('geolocation' in navigator)) {
    onFix(null);
    return () => undefined;
  }
  const watch = navigator.geolocation.watchPosition(
    ({ coords }) =>
      onFix({
        latitudeDeg: Number(coords.latitude.toFixed(6)),
        longitudeDeg: Number(coords.longitude.toFixed(6)),
        errorM: coords.accuracy,
        atMs: Date.now(),
      }),
    () => onFix(null),
    { enableHighAccuracy: true, maximumAge: 15_000 },
  );
  return () => navigator.geolocation.clearWatch(watch);
}
