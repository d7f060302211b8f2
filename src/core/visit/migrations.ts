import type { Outcome } from '../faults/outcome.ts';
import { cannot, good } from '../faults/outcome.ts';
import { VISIT_VERSION } from './visitSchema.ts';

type Fields = Readonly<Record<string, unknown>>;
type Migration = (document: Fields) => Fields;

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/**
 * Version 1 held one impression as `impression`, so a second person's overwrote the first; and a growth stage as bare
 * text, always with trifoliolates counted. Version 2 lists impressions and names the stage convention.
 */
const fromVersion1: Migration = (document) => {
  const { impression, damage, ...rest } = document;
  return {
    ...rest,
    ...(isFields(impression) ? { impressions: [{ id: 'impression-1', ...impression }] } : {}),
    ...(Array.isArray(damage)
      ? {
          damage: damage.map((entry: unknown) =>
            isFields(entry) && typeof entry.stage === 'string'
              ? { ...entry, stage: { code: entry.stage, convention: 'trifoliolate' } }
              : entry,
          ),
        }
      : {}),
  };
};

/** `MIGRATIONS[n - 1]` takes version n to n + 1. Never altered once a version was written by anybody. */
const MIGRATIONS: readonly Migration[] = [fromVersion1];

/**
 * Brings a visit of any earlier version to this one, step by step. The document given is left alone. Refuses what
 * carries no version and what is newer than this code, by name.
 */
export function migrateVisit(raw: unknown): Outcome<Fields> {
  if (!isFields(raw)) {
    return cannot(
      'not a visit',
      Array.isArray(raw) ? 'a list' : `a ${typeof raw}`,
      'one visit document',
      'Choose a visit file.',
    );
  }
  const version = /^rowledger\/visit@(\d+)$/.exec(String(raw.schema))?.[1];
  if (version === undefined || Number(version) < 1) {
    const found = raw.schema === undefined ? 'no "schema"' : `"schema": ${JSON.stringify(raw.schema)}`;
    return cannot('not a visit', found, `"schema": "rowledger/visit@${VISIT_VERSION}"`, 'Choose a visit file.');
  }
  if (Number(version) > VISIT_VERSION) {
    return cannot('too new', `version ${version} of a visit`, `version ${VISIT_VERSION} or older`, 'Update Rowledger.');
  }
  let document = raw;
  for (let from = Number(version); from < VISIT_VERSION; from++) {
    document = { ...MIGRATIONS[from - 1]!(document), schema: `rowledger/visit@${from + 1}` };
  }
  return good(document);
}
