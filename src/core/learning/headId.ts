import type { Head } from './head.ts';

/**
 * Name of a head: its day of training and a checksum of all it holds (FNV-1a, 32 bits), so that two heads that answer
 * differently do not share a name. It tells heads apart; it does not guard against tampering.
 */
export function headId(head: Omit<Head, 'id'>): string {
  let sum = 0x811c9dc5;
  const parts = [head.seed, head.stock, head.featureNames, head.labels, head.mean, head.sd, head.hidden, head.output];
  for (const letter of JSON.stringify(parts)) sum = Math.imul(sum ^ letter.codePointAt(0)!, 0x01000193);
  const day = head.trainedAt.slice(0, 10);
  return `${day}-${(sum >>> 0).toString(16).padStart(8, '0')}`;
}
