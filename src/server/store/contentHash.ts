import { createHash } from 'node:crypto';
import type { Database } from './tables.ts';

/**
 * One hash over everything that is the truth in an archive, or in one field of it: every record and every original
 * photo, in an order that does not depend on when they arrived. Equal hashes: equal archives.
 */
export function contentHash(recordHashes: readonly string[], photoHashes: readonly string[]): string {
  const hash = createHash('sha256');
  for (const record of [...recordHashes].sort()) hash.update(`record ${record}\n`);
  for (const photo of [...photoHashes].sort()) hash.update(`photo ${photo}\n`);
  return hash.digest('hex');
}

export async function archiveHash(db: Database): Promise<string> {
  const records = await db.selectFrom('record').select('hash').execute();
  const photos = await db.selectFrom('photo_file').select('sha256').execute();
  return contentHash(
    records.map((r) => r.hash),
    photos.map((p) => p.sha256),
  );
}
