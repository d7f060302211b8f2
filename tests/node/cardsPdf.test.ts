import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runCards } from '../../src/cli/commands/cards.ts';
import { cardsPdf } from '../../src/node/cardsPdf.ts';

const when = new Date('2026-05-01T00:00:00Z');
const written = () => {
  const lines: string[] = [];
  return { lines, io: { stdout: (t: string) => void lines.push(t), stderr: (t: string) => void lines.push(t) } };
};

it.each([
  // ISO 216 A4 and ANSI Letter in points (1/72 in).
  ['a4', 595.28, 841.89],
  ['letter', 612, 792],
] as const)('writes four pages of %s', async (paper, widthPt, heightPt) => {
  const text = Buffer.from(await cardsPdf(paper, when)).toString('latin1');
  expect(text.startsWith('%PDF-')).toBe(true);
  const boxes = [...text.matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g)];
  expect(boxes).toHaveLength(4);
  for (const [, w, h] of boxes) {
    expect(Number(w)).toBeCloseTo(widthPt, 1);
    expect(Number(h)).toBeCloseTo(heightPt, 1);
  }
});

it('runs as a command, and says what it wants', async () => {
  const out = join(mkdtempSync(join(tmpdir(), 'cards-')), 'cards.pdf');
  const good = written();
  expect(await runCards(['--out', out, '--paper', 'A4'], good.io)).toBe(0);
  expect(readFileSync(out).subarray(0, 5).toString()).toBe('%PDF-');
  for (const args of [[], ['--out', out, '--paper', 'a5'], ['--what'], ['--out', '/nowhere/at/all.pdf']]) {
    const bad = written();
    expect(await runCards(args, bad.io)).toBe(2);
    expect(bad.lines.join('')).toMatch(/^rowledger cards: .+\n$/);
  }
});
