import { expect, test } from 'vitest';
import { adoptHead, EMPTY_SHELF, headInUse } from '../../src/core/learning/headShelf.ts';
import { readHeads, writeHeads } from '../../src/core/learning/headsDocument.ts';
import { drawnHead } from '../core/learning/marks.ts';
import { exported, filled, imported } from './archiveSupport.ts';
import { testDevice, testServer } from './support.ts';

test("a farm's learned heads travel with its archive, and with that of one of its fields", async () => {
  const { server } = await filled();
  const { items } = (await server.get('/api/things/farm')).body as { items: { id: string }[] };
  const farm = items[0]!.id;
  const head = drawnHead(1);
  const shelf = adoptHead(EMPTY_SHELF, head, { id: 'u1', at: '2026-06-20T10:00:00Z', by: 'ada' });
  const record = testDevice('Cleo').edit('heads', farm, writeHeads(shelf));
  const answer = (await server.post('/api/sync', { records: [record], after: null })).body as { accepted: string[] };
  expect(answer.accepted).toEqual([record.id]);
  for (const query of ['', '?field=field-1']) {
    const other = await testServer();
    await imported(other, await exported(server, query));
    const held = (await other.get(`/api/things/heads/${farm}`)).body as { document: unknown };
    const read = readHeads(held.document);
    expect(read.ok && headInUse(read.value)).toEqual(head);
    await other.close();
  }
  await server.close();
});
