import { signal } from '@preact/signals';
import type { Fix } from '../../browser/sensors/watchPosition.ts';

/** Where the phone is, while a walk is on; null: not known. */
export const fix = signal<Fix | null>(null);
