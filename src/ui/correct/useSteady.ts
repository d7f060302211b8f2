import { useRef } from 'preact/hooks';
import type { Correction } from '../../core/corrections/correction.ts';
import type { CountResult } from '../../core/count/countResult.ts';

/**
 * The value given before, as long as the new one says the same. Documents are read anew at every edit; pictures must not
 * be decoded anew, nor a drag be broken off, because of that.
 */
export function useSteady<T>(value: T, same: (a: T, b: T) => boolean): T {
  const kept = useRef(value);
  if (kept.current !== value && !same(kept.current, value)) kept.current = value;
  return kept.current;
}

/** A count's own result never changes, so a few of its parts tell whether it is the same one. */
export function sameCount(a: CountResult, b: CountResult): boolean {
  return a.photo.sha256 === b.photo.sha256 && a.plants.length === b.plants.length && a.count.value === b.count.value;
}

export function sameRecords(a: readonly Correction[], b: readonly Correction[]): boolean {
  return a.length === b.length && a.every(({ id }, i) => id === b[i]!.id);
}

type People = readonly { readonly id: string; readonly name: string }[];

export function samePeople(a: People, b: People): boolean {
  return a.length === b.length && a.every(({ id, name }, i) => id === b[i]!.id && name === b[i]!.name);
}
