import { join } from 'node:path';
import type { FileSteps } from './fileSteps.ts';

/** A phone that has not gone on with a half photo for so long sends it whole again: nothing is lost by clearing it. */
export const HALF_KEPT_DAYS = 7;
const DAY_MS = 86_400_000;

/**
 * Removes what earlier runs left under `incoming/`: halves of photos older than `HALF_KEPT_DAYS`, and archives whose
 * reading-in ended with the server, of any age. For start-up, while nobody sends anything. Answers how many went.
 */
export async function clearIncoming(steps: FileSteps, folder: string, nowMs: number): Promise<number> {
  const incoming = join(folder, 'incoming');
  await steps.makeFolder(incoming);
  let removed = 0;
  for (const name of await steps.list(incoming)) {
    const path = join(incoming, name);
    const isOld = nowMs - (await steps.changedMs(path)) > HALF_KEPT_DAYS * DAY_MS;
    if (!name.endsWith('.zip') && !(name.endsWith('.part') && isOld)) continue;
    await steps.remove(path);
    removed++;
  }
  return removed;
}
