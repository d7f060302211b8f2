import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { runCount } from '../../src/cli/commands/count.ts';
import type { CountResult } from '../../src/core/count/countResult.ts';
import { COLOUR_IDENTITY } from '../../src/core/detector/detectorIdentity.ts';
import { headId } from '../../src/core/learning/headId.ts';
import { adoptHead, EMPTY_SHELF, useHead } from '../../src/core/learning/headShelf.ts';
import { writeHeads } from '../../src/core/learning/headsDocument.ts';
import { drawnHead } from '../core/learning/marks.ts';
import { drawnRow } from '../support/drawnRow.ts';

const folder = mkdtempSync(join(tmpdir(), 'rowledger-head-'));
const photo = join(folder, 'row.png');
writeFileSync(photo, (await drawnRow([200, 400, 600, 800], 1000, 1)).png);
const { id: _id, ...drawn } = drawnHead(1);
const unnamed = { ...drawn, stock: COLOUR_IDENTITY };
const head = { ...unnamed, id: headId(unnamed) };
const use = (n: number) => ({ id: `u${n}`, at: `2026-06-17T08:0${n}:00Z`, by: 'ann' });
const shelf = adoptHead(EMPTY_SHELF, head, use(1));

async function count(document: unknown): Promise<{ status: number; out: string; err: string }> {
  const file = join(folder, 'heads.json');
  writeFileSync(file, typeof document === 'string' ? document : JSON.stringify(document));
  let [out, err] = ['', ''];
  const io = {
    stdout: (text: string) => {
      out += text;
    },
    stderr: (text: string) => {
      err += text;
    },
  };
  const args = [photo, '--mm-per-px', '1', '--model', 'none', '--head', file, '--json'];
  return { status: await runCount(args, io), out, err };
}

it('counts with what was learned, and says so in the version', async () => {
  const { out, status, err } = await count(writeHeads(shelf));
  expect(status, err).toBe(0);
  const { detector, plants } = JSON.parse(out) as CountResult;
  expect(detector).toEqual({ name: 'none', version: `${COLOUR_IDENTITY.version}+${head.id}` });
  expect(plants.length).toBeGreaterThan(0);
});

it('refuses a file without a head in use, of another detector, or of another kind, in one line', async () => {
  const other = { ...unnamed, stock: { name: 'none', version: '0' } };
  const misfit = adoptHead(EMPTY_SHELF, { ...other, id: headId(other) }, use(1));
  for (const [document, says] of [
    [writeHeads(useHead(shelf, null, use(2))), 'no head is in use'],
    [writeHeads(misfit), 'learned on none 0'],
    [{ schema: 'rowledger/visit@2' }, 'rowledger/heads@1'],
    ['not JSON', 'not JSON'],
  ] as const) {
    const { status, out, err } = await count(document);
    expect([status, out]).toEqual([2, '']);
    expect(err.trim().split('\n')).toHaveLength(1);
    expect(err).toContain(says);
  }
});
