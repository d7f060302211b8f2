import type { Archive } from '../openArchive.ts';
import { acceptRecords } from '../store/acceptRecords.ts';
import { demoRecords } from './demoRecords.ts';

/** Adds the demonstration farm. False, and nothing done, when the archive holds anything else: the two never mix. */
export async function loadDemo({ db, now }: Archive): Promise<boolean> {
  const other = await db.selectFrom('record').select('id').where('device', '!=', 'demo').limit(1).executeTakeFirst();
  if (other !== undefined) return false;
  const { refused } = await acceptRecords(db, demoRecords(), now());
  const [first] = refused;
  if (first !== undefined) throw new Error(`the demonstration farm was refused: ${first.id}: ${first.message}`);
  return true;
}
