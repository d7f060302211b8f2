import type { Json } from './json.ts';
import type { Path } from './path.ts';

export const RECORD_SCHEMA = 'rowledger/record@1';

/** What a record may be about. */
export const THING_KINDS = ['farm', 'field', 'planting', 'visit', 'photo', 'detections', 'heads', 'targets'] as const;

export type ThingKind = (typeof THING_KINDS)[number];

/** Gives one value to one path in the document of a thing. */
export interface PathChange {
  readonly path: Path;
  /** Absent: the value is removed. */
  readonly value?: Json;
  /** The records whose values at this path were on the author's screen and are hereby replaced. */
  readonly replaces: readonly string[];
}

/**
 * One thing that one person did at one moment: the unit of history, sending and merging. Never altered and never
 * deleted once made. `id` is a random UUID given by the device, so a record that arrives twice is known.
 *
 * Machine detections (`kind` "detections") are one record each: `thing` equals `id`, one change at the root path.
 */
export interface ChangeRecord {
  readonly schema: typeof RECORD_SCHEMA;
  readonly id: string;
  readonly device: string;
  /** 1, 2, 3 ... on this device: a missing number shows that something has not arrived. */
  readonly sequence: number;
  /** Who, as they call themselves. */
  readonly author: string;
  /** When by the device's clock, ISO 8601 in UTC with milliseconds. */
  readonly at: string;
  readonly kind: ThingKind;
  readonly thing: string;
  /** The newest records about this thing that its author had: none of them is a parent of another one they had. */
  readonly parents: readonly string[];
  readonly changes: readonly PathChange[];
}
