import { carryOver } from '../../core/corrections/carryOver.ts';
import { standingChanges } from '../../core/corrections/standingChanges.ts';
import type { CountResult } from '../../core/count/countResult.ts';
import type { Json } from '../../core/sync/json.ts';
import type { PhotoResult, VisitChange, VisitCount } from '../../core/visit/countSchema.ts';
import type { VisitDamage, VisitDocument, VisitSpot } from '../../core/visit/visitSchema.ts';
import { VISIT_SCHEMA } from '../../core/visit/visitSchema.ts';

export type Edit = (document: Json) => Json;
export type DigCheck = NonNullable<VisitDocument['digChecks']>[number];
type Leaning = NonNullable<VisitDocument['impressions']>[number]['leaning'];
type Choice = NonNullable<VisitDocument['decisions']>[number]['choice'];

/** A visit's edit, as a change of its document. Each is a plain function of the document: kept, replayed, merged. */
export const onVisit =
  (change: (visit: VisitDocument) => VisitDocument): Edit =>
  (document) =>
    change(document as unknown as VisitDocument) as unknown as Json;

/** The id of a person within documents: their name, plain. */
export function personId(name: string): string {
  const plain = name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, '-')
    .replace(/^-|-$/g, '');
  return plain === '' ? 'unnamed' : plain;
}

function known(visit: VisitDocument, name: string): VisitDocument {
  const id = personId(name);
  if (visit.people.some((person) => person.id === id)) return visit;
  return { ...visit, people: [...visit.people, { id, name }] };
}

export interface VisitStart {
  readonly id: string;
  readonly visitedOn: string;
  readonly units: 'imperial' | 'metric';
  readonly name: string;
  /** What that person does; empty: not said. */
  readonly role?: string;
  readonly farm: VisitDocument['farm'];
  readonly field: VisitDocument['field'];
  readonly season: number;
  readonly planting: VisitDocument['planting'];
  readonly zones?: VisitDocument['zones'];
}

/** A new visit: what the planting knows comes along. */
export const startVisit = ({ id, name, role = '', zones, ...rest }: VisitStart): Edit =>
  onVisit(() => ({
    schema: VISIT_SCHEMA,
    id,
    people: [{ id: personId(name), name, ...(role === '' ? {} : { role }) }],
    spots: [],
    ...rest,
    ...(zones === undefined ? {} : { zones }),
  }));

export const addImpression = (id: string, name: string, at: string, leaning: Leaning, words: string): Edit =>
  onVisit((visit) => {
    const made = { id, at, by: personId(name), leaning, ...(words.trim() === '' ? {} : { words: words.trim() }) };
    return { ...known(visit, name), impressions: [...(visit.impressions ?? []), made] };
  });

export interface SpotStart {
  readonly id: string;
  readonly name: string;
  readonly at: string;
  readonly position: VisitSpot['position'] | undefined;
  readonly note: string | undefined;
  /** The zone that the walk is in. */
  readonly zoneId?: string | undefined;
}

/** Adds a count to a spot; the spot is made with its first count. A photo counts once, unless it is counted again on purpose. */
export const addCount = (start: SpotStart, count: VisitCount, again = false): Edit =>
  onVisit((visit) => {
    const { id, name, at, position, note, zoneId } = start;
    const there = visit.spots.some((spot) => spot.id === id);
    if (!again && there && visit.spots.some((spot) => spot.id === id && spot.counts.some(isOf(count)))) return visit;
    const made: VisitSpot = {
      id,
      countedAt: at,
      by: personId(name),
      ...(zoneId === undefined ? {} : { zoneId }),
      ...(position === undefined ? {} : { position }),
      ...(note === undefined ? {} : { note }),
      counts: [count],
    };
    const spots = there
      ? visit.spots.map((spot) => (spot.id === id ? { ...spot, counts: [...spot.counts, count] } : spot))
      : [...visit.spots, made];
    return { ...known(visit, name), spots };
  });

const isOf = (count: VisitCount) => (other: VisitCount) =>
  count.kind === 'photo' && other.kind === 'photo' && count.result.photo.sha256 === other.result.photo.sha256;

export type PhotoCount = Extract<VisitCount, { kind: 'photo' }>;

export const photoCount = (id: string, result: PhotoResult): PhotoCount => ({ id, kind: 'photo', result });

/** Changes the hand count of a spot. */
export const changeCount = (spotId: string, countId: string, change: (count: VisitCount) => VisitCount): Edit =>
  onVisit((visit) => ({
    ...visit,
    spots: visit.spots.map((spot) =>
      spot.id === spotId
        ? { ...spot, counts: spot.counts.map((count) => (count.id === countId ? change(count) : count)) }
        : spot,
    ),
  }));

export const CARRIED_OVER = 'carried over from the count before';

/**
 * Says against the new count of a photo what people said against an older one, wherever it has a place there; theirs
 * stays theirs. To be done once, with the new count.
 *
 * @param id begins the ids of the records made.
 */
export const carryCorrections = (id: string, at: string, before: PhotoCount, after: PhotoCount): Edit =>
  onVisit((visit) => {
    const own = (visit.corrections ?? []).filter((one) => one.countId === before.id);
    const whole = (count: PhotoCount) => count.result as unknown as CountResult;
    const made = carryOver(whole(before), own, whole(after)).changes.map(({ by, change }, i) => ({
      id: `${id}-${i + 1}`,
      at,
      by,
      countId: after.id,
      change: change as VisitChange,
      why: CARRIED_OVER,
    }));
    return made.length === 0 ? visit : { ...visit, corrections: [...(visit.corrections ?? []), ...made] };
  });

/** Records what a person says against a count; the count itself stays. */
export const addCorrection = (
  id: string,
  name: string,
  at: string,
  countId: string,
  change: VisitChange,
  why: string | undefined,
): Edit =>
  onVisit((visit) => {
    const made = { id, at, by: personId(name), countId, change, ...(why === undefined ? {} : { why }) };
    return { ...known(visit, name), corrections: [...(visit.corrections ?? []), made] };
  });

/** The records that left a count out and stand; none: it counts. */
export const leftOutBy = (visit: VisitDocument, countId: string) =>
  standingChanges((visit.corrections ?? []).filter((one) => one.countId === countId)).standing.filter(
    ({ change }) => change.kind === 'leave out',
  );

export const OTHER_COUNT = 'another count of the same photo stands';

/**
 * Lets a count that was left out count again. A photo counts once: its other counts at the spot are left out for it.
 *
 * @param id begins the ids of the records made.
 */
export const countAfterAll = (id: string, name: string, at: string, countId: string): Edit =>
  onVisit((visit) => {
    const there = visit.spots.flatMap(({ counts }) => (counts.some((one) => one.id === countId) ? counts : []));
    const own = there.find((one) => one.id === countId);
    const by = personId(name);
    const back = leftOutBy(visit, countId).map((deed) => ({
      by,
      countId,
      change: { kind: 'undo', correctionId: deed.id } as const,
    }));
    if (own === undefined || back.length === 0) return visit;
    const others = there.filter((one) => one !== own && isOf(own)(one) && leftOutBy(visit, one.id).length === 0);
    const out = others.map((other) => ({
      by,
      countId: other.id,
      change: { kind: 'leave out' } as const,
      why: OTHER_COUNT,
    }));
    const made = [...back, ...out].map((record, i) => ({ id: `${id}-${i + 1}`, at, ...record }));
    return { ...known(visit, name), corrections: [...(visit.corrections ?? []), ...made] };
  });

export const putDamage = (damage: VisitDamage): Edit =>
  onVisit((visit) => ({ ...visit, damage: put(visit.damage ?? [], damage) }));

export const putDigCheck = (dig: DigCheck): Edit =>
  onVisit((visit) => ({ ...visit, digChecks: put(visit.digChecks ?? [], dig) }));

export const addDecision = (
  id: string,
  name: string,
  at: string,
  choice: Choice,
  verdictShown: string,
  words = '',
): Edit =>
  onVisit((visit) => ({
    ...known(visit, name),
    decisions: [
      ...(visit.decisions ?? []),
      { id, at, by: personId(name), choice, verdictShown, ...(words.trim() === '' ? {} : { words: words.trim() }) },
    ],
  }));

/** Gives the parts of the document named here, such as the costs. */
export const setParts = (parts: Partial<VisitDocument>): Edit => onVisit((visit) => ({ ...visit, ...parts }));

export function put<T extends { readonly id: string }>(list: readonly T[], entry: T): T[] {
  return list.some((one) => one.id === entry.id)
    ? list.map((one) => (one.id === entry.id ? entry : one))
    : [...list, entry];
}
