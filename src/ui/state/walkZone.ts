import { signal } from '@preact/signals';

/** The zone that the walk is in now, by visit: new spots lie in it. */
export const walkZone = signal<{ readonly visit: string; readonly zone: string } | null>(null);

export function zoneNow(visit: {
  readonly id: string;
  readonly zones?: readonly { readonly id: string }[] | undefined;
}) {
  const now = walkZone.value;
  const isHere = now?.visit === visit.id && (visit.zones ?? []).some((zone) => zone.id === now.zone);
  return isHere ? now.zone : undefined;
}
