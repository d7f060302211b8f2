import { readFile } from 'node:fs/promises';
import { cannot, type Outcome } from '../../core/faults/outcome.ts';
import { headInUse } from '../../core/learning/headShelf.ts';
import { readHeads } from '../../core/learning/headsDocument.ts';
import { withHead } from '../../core/learning/withHead.ts';
import type { Detector } from '../../node/chooseDetector.ts';

const NEXT = 'Take documents/heads from an exported archive.';
const WANTED = 'a "rowledger/heads@1" document with a head in use';

/** The detector with the head in use of a farm's heads document. */
export async function withHeadFile(stock: Detector, path: string): Promise<Outcome<Detector>> {
  let raw: unknown;
  try {
    raw = JSON.parse(await readFile(path, 'utf8'));
  } catch (error) {
    const why = (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'there is no such file' : 'it is not JSON';
    return cannot('usage', `--head ${path}: ${why}`, WANTED, NEXT);
  }
  const shelf = readHeads(raw);
  if (!shelf.ok) return shelf;
  const head = headInUse(shelf.value);
  return head === null ? cannot('usage', `--head ${path}: no head is in use`, WANTED, NEXT) : withHead(stock, head);
}
