import { isSignId } from '../diagnosis/signs.ts';
import type { Cannot, Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import { migrateVisit } from './migrations.ts';
import { plainIssue } from './plainIssue.ts';
import type { VisitDocument } from './visitSchema.ts';
import { visitSchema } from './visitSchema.ts';

const MOST_FAULTS_SHOWN = 5;

/**
 * A visit from what a file or a store holds: migrated, checked field by field, and checked against itself (names that
 * point nowhere, dates the wrong way round). The refusal names the place.
 */
export function readVisit(raw: unknown): Outcome<VisitDocument> {
  const migrated = migrateVisit(raw);
  if (!migrated.ok) return migrated;
  const parsed = visitSchema.safeParse(migrated.value, { error: plainIssue });
  if (!parsed.success) {
    const faults = parsed.error.issues.map((issue) => `${placeOf(issue.path)}: ${issue.message}`);
    return bad(faults);
  }
  const faults = selfFaults(parsed.data);
  return faults.length > 0 ? bad(faults) : good(parsed.data);
}

/** A visit from the text of a file. */
export function readVisitText(text: string): Outcome<VisitDocument> {
  try {
    return readVisit(JSON.parse(text) as unknown);
  } catch (error) {
    const why = error instanceof SyntaxError ? error.message : String(error);
    return cannot('not json', `text that is not JSON (${why})`, 'one visit document as JSON', 'Choose a visit file.');
  }
}

function bad(faults: readonly string[]): Cannot {
  const shown = faults.slice(0, MOST_FAULTS_SHOWN).join('; ');
  const more = faults.length > MOST_FAULTS_SHOWN ? `; and ${faults.length - MOST_FAULTS_SHOWN} more` : '';
  return cannot('not valid', shown + more, 'a visit that fits the schema', 'Correct the named places.');
}

function placeOf(path: readonly PropertyKey[]): string {
  return path.length === 0 ? 'the document' : path.map(String).join('.');
}

function selfFaults(visit: VisitDocument): readonly string[] {
  const faults: string[] = [];
  if (visit.visitedOn < visit.planting.plantedOn) {
    faults.push(
      `visitedOn ${visit.visitedOn} is before planting.plantedOn ${visit.planting.plantedOn}: are they swapped?`,
    );
  }
  const people = new Set(visit.people.map((p) => p.id));
  const zones = new Set((visit.zones ?? []).map((z) => z.id));
  const counts = new Set(visit.spots.flatMap((s) => s.counts.map((c) => c.id)));
  const wants = (place: string, name: string | undefined, known: ReadonlySet<string>, what: string) => {
    if (name !== undefined && !known.has(name)) faults.push(`${place}: no ${what} "${name}" in this visit`);
  };
  visit.spots.forEach((spot, i) => {
    wants(`spots.${i}.zoneId`, spot.zoneId, zones, 'zone');
    wants(`spots.${i}.by`, spot.by, people, 'person');
  });
  visit.corrections?.forEach((c, i) => {
    wants(`corrections.${i}.countId`, c.countId, counts, 'count');
    wants(`corrections.${i}.by`, c.by, people, 'person');
  });
  visit.damage?.forEach((d, i) => {
    wants(`damage.${i}.zoneId`, d.zoneId, zones, 'zone');
    if (d.happenedOn > visit.visitedOn) faults.push(`damage.${i}.happenedOn ${d.happenedOn} is after the visit`);
  });
  visit.digChecks?.forEach((d, i) => {
    wants(`digChecks.${i}.zoneId`, d.zoneId, zones, 'zone');
  });
  visit.impressions?.forEach((m, i) => {
    wants(`impressions.${i}.by`, m.by, people, 'person');
  });
  visit.decisions?.forEach((d, i) => {
    wants(`decisions.${i}.by`, d.by, people, 'person');
  });
  visit.earlierCounts?.forEach((c, i) => {
    if (c.on > visit.visitedOn) faults.push(`earlierCounts.${i}.on ${c.on} is after the visit`);
    if (c.on < visit.planting.plantedOn) faults.push(`earlierCounts.${i}.on ${c.on} is before planting`);
  });
  for (const which of ['seen', 'notSeen'] as const) {
    visit.signs?.[which].forEach((sign, i) => {
      if (!isSignId(sign)) faults.push(`signs.${which}.${i}: no sign "${sign}" in the checklist`);
    });
  }
  for (const [what, ids] of [
    ['spots', visit.spots.map((s) => s.id)],
    ['counts', visit.spots.flatMap((s) => s.counts.map((c) => c.id))],
    ['zones', (visit.zones ?? []).map((z) => z.id)],
    ['people', visit.people.map((p) => p.id)],
  ] as const) {
    const seen = new Set<string>();
    for (const name of ids) {
      if (seen.has(name)) faults.push(`${what}: the id "${name}" is used twice`);
      seen.add(name);
    }
  }
  return faults;
}
