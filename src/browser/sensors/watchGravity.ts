import type { Vector3 } from '../../core/geometry/point.ts';
import { gravityInCamera } from './gravityInCamera.ts';

export interface GravityWatch {
  /** The newest reading; null where the phone gives none, or an old one. */
  readonly now: () => Vector3 | null;
  readonly stop: () => void;
}

type Asks = { requestPermission?: () => Promise<'granted' | 'denied'> };

const OLD_MS = 500;

/** Follows the phone's orientation. Some phones ask the person first: call this from a tap. */
export async function watchGravity(): Promise<GravityWatch> {
  let last: { readonly gravity: Vector3; readonly atMs: number } | null = null;
  const read = ({ beta, gamma }: DeviceOrientationEvent) => {
    if (beta === null || gamma === null) return;
    const screenAngleDeg = screen.orientation?.angle ?? 0;
    last = { gravity: gravityInCamera({ betaDeg: beta, gammaDeg: gamma, screenAngleDeg }), atMs: performance.now() };
  };
  if ('DeviceOrientationEvent' in globalThis) {
    const ask = (DeviceOrientationEvent as unknown as Asks).requestPermission;
    const allowed = ask === undefined ? 'granted' : await ask().catch(() => 'denied' as const);
    if (allowed === 'granted') addEventListener('deviceorientation', read);
  }
  return {
    now: () => (last !== null && performance.now() - last.atMs < OLD_MS ? last.gravity : null),
    stop: () => removeEventListener('deviceorientation', read),
  };
}
