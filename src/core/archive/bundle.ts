import * as z from 'zod/mini';
import { cannot, good, type Outcome } from '../faults/outcome.ts';

/** The version this code writes. */
export const BUNDLE_VERSION = 1;

/** Name of the list of contents. */
export const MANIFEST = 'rowledger.json';

const hash = z.string().check(z.regex(/^[0-9a-f]{64}$/));
const size = z.int().check(z.minimum(0));

const manifestSchema = z.strictObject({
  schema: z.literal(`rowledger/archive@${BUNDLE_VERSION}`),
  madeBy: z.string(),
  madeAt: z.iso.datetime(),
  /** Null: the whole archive. */
  field: z.nullable(z.string()),
  /** SHA-256 over all records and photos, see `contentHash`. */
  contentHash: hash,
  records: z.array(z.strictObject({ name: z.string(), sha256: hash, bytes: size, records: size })),
  photos: z.array(z.strictObject({ sha256: hash, bytes: size, type: z.string() })),
  /** Photos that the records speak of and that had not arrived when this was made. */
  missingPhotos: z.array(hash),
});

/** What an exported archive says it holds. The other entries (documents, tables, maps) are copies for people. */
export type Manifest = z.infer<typeof manifestSchema>;

/** Reads the list of contents; refuses another kind of file and newer versions by name. */
export function readManifest(text: string): Outcome<Manifest> {
  const wanted = `a list of contents of version ${BUNDLE_VERSION}`;
  let raw: unknown;
  try {
    raw = JSON.parse(text);
  } catch {
    return cannot('not-an-archive', `${MANIFEST} that is not JSON`, wanted, 'Choose another file.');
  }
  const schema = typeof raw === 'object' && raw !== null && 'schema' in raw ? String(raw.schema) : '';
  const version = /^rowledger\/archive@(\d+)$/.exec(schema)?.[1];
  if (version === undefined) return cannot('not-an-archive', `"schema": "${schema}"`, wanted, 'Choose another file.');
  if (Number(version) > BUNDLE_VERSION) {
    return cannot(
      'too-new',
      `an archive of version ${version}`,
      `version ${BUNDLE_VERSION} or older`,
      'Update Rowledger.',
    );
  }
  const parsed = manifestSchema.safeParse(raw);
  if (parsed.success) return good(parsed.data);
  const issue = parsed.error.issues[0];
  return cannot(
    'broken-archive',
    `${issue?.path.join('.')}: ${issue?.message} in ${MANIFEST}`,
    wanted,
    'Export it again.',
  );
}

const ENTRY_NAMES: readonly RegExp[] = [
  /^rowledger\.json$/,
  /^records\/\d{6}\.jsonl$/,
  /^photos\/[0-9a-f]{2}\/[0-9a-f]{64}\.(jpg|png|webp|avif|heic)$/,
  /^documents\/[a-z]+\/[\w-]{1,160}\.json$/,
  /^tables\/[a-z]+\.csv$/,
  /^maps\/[a-z]+\.geojson$/,
];

/** Whether a name is one this program gives. All others are refused: no path can leave the folder it is read into. */
export function isBundleName(name: string): boolean {
  return ENTRY_NAMES.some((pattern) => pattern.test(name));
}

const ENDINGS: Readonly<Record<string, string>> = {
  'image/jpeg': 'jpg',
  'image/png': 'png',
  'image/webp': 'webp',
  'image/avif': 'avif',
  'image/heic': 'heic',
};

export function photoEntryName(sha256: string, type: string): string {
  return `photos/${sha256.slice(0, 2)}/${sha256}.${ENDINGS[type] ?? 'jpg'}`;
}

/** `mark` tells apart ids that differ only in characters that a file name should not have. */
export function documentEntryName(kind: string, id: string, mark: string): string {
  return `documents/${kind}/${id.replace(/[^\w-]/g, '-')}-${mark}.json`;
}

export function recordsEntryName(number: number): string {
  return `records/${String(number).padStart(6, '0')}.jsonl`;
}
