import { expect, test } from 'vitest';
import { toPerSquareMetre } from '../../src/core/units/density.ts';
import { exported, imported } from './archiveSupport.ts';
import { type TestServer, temporaryFolder, testDevice, testServer, testVisit } from './support.ts';

const plants = (each: number) =>
  Array.from({ length: 6 }, (_, i) => ({
    id: `s${i}`,
    counts: [{ id: `c${i}`, kind: 'rows', length: '10 ft', plants: [each + (i % 2)] }],
  }));
const row = (id: string, low: string, high: string) => ({ id, marketClass: 'pinto', of: 'plants', low, high });
const own = (...rows: readonly ReturnType<typeof row>[]) => ({
  schema: 'rowledger/targets@1',
  name: 'Hollow Elm Farm',
  rows,
});
const LOW = row('own', '28,000 plants/ac', '30,000 plants/ac');

const send = async (server: TestServer, record: unknown) =>
  expect((await server.post('/api/sync', { records: [record], after: null })).body).toMatchObject({ refused: [] });
const thinVisit = (id: string) => testVisit(id, { visitedOn: '2026-07-02', spots: plants(16) });
const verdicts = async (server: TestServer) =>
  ((await server.get('/api/things/visit')).body as { items: { id: string; verdict: string }[] }).items
    .map((item) => [item.id, item.verdict])
    .sort();

test('targets of the organisation are kept, used for new visits, and move the verdicts of old ones', async () => {
  const server = await testServer();
  expect((await server.get('/api/targets')).body).toEqual({ targets: null });
  // 16.5 plants in 10 ft of 30 in rows: 16.5 / 23.226e-4 ha, about 28,750 an acre.
  expect(toPerSquareMetre(28_750, 'perAcre') * 3.048 * 0.762).toBeCloseTo(16.5, 1);
  const device = testDevice('Ada');
  await send(server, device.edit('visit', 'v1', thinVisit('v1')));
  const [[, before]] = (await verdicts(server)) as [[string, string]];
  expect(before).not.toBe('keep');
  await send(server, device.edit('targets', 'own', own(LOW)));
  await expect.poll(() => verdicts(server)).toEqual([['v1', 'keep']]);
  await send(server, device.edit('visit', 'v2', thinVisit('v2')));
  expect(await verdicts(server)).toEqual([
    ['v1', 'keep'],
    ['v2', 'keep'],
  ]);
  expect((await server.get('/api/targets')).body).toEqual({ targets: own(LOW) });
  await send(server, device.edit('targets', 'own', own()));
  await expect
    .poll(() => verdicts(server))
    .toEqual([
      ['v1', before],
      ['v2', before],
    ]);
  expect(server.reported).toEqual([]);
  await server.close();
});

test('two people who each add a target without knowing of the other keep both', async () => {
  const server = await testServer();
  const [ada, ben] = [testDevice('Ada'), testDevice('Ben')];
  const first = ada.edit('targets', 'own', own(LOW));
  await send(server, first);
  ben.learn([first]);
  const [adas, bens] = [row('adas', '1 plants/ac', '2 plants/ac'), row('bens', '3 plants/ac', '4 plants/ac')];
  await send(server, ada.edit('targets', 'own', own(LOW, adas), 1));
  // Ben takes the common row out and adds his own: nothing of Ada's goes with it.
  await send(server, ben.edit('targets', 'own', own(bens), 2));
  const { targets } = (await server.get('/api/targets')).body as { targets: ReturnType<typeof own> };
  expect([...targets.rows].sort((a, b) => (a.id < b.id ? -1 : 1))).toEqual([adas, bens]);
  await server.close();
});

test('an export carries them, whole or of one field, and an import files verdicts by them', async () => {
  const server = await testServer();
  const device = testDevice('Ada');
  await send(server, device.edit('visit', 'v1', thinVisit('v1')));
  await send(server, device.edit('targets', 'own', own(LOW)));
  await expect.poll(() => verdicts(server)).toEqual([['v1', 'keep']]);
  const field = (thinVisit('v1') as unknown as { field: { id: string } }).field.id;
  for (const query of ['', `?field=${field}`]) {
    const other = await testServer();
    expect((await imported(other, await exported(server, query))).body).toMatchObject({ records: 2 });
    expect((await other.get('/api/targets')).body).toEqual({ targets: own(LOW) });
    await expect.poll(() => verdicts(other)).toEqual([['v1', 'keep']]);
    expect(other.reported).toEqual([]);
    await other.close();
  }
  await server.close();
});

test('targets kept beside the records by an older version are one record after the next start', async () => {
  const folder = temporaryFolder();
  const before = await testServer({}, undefined, folder);
  await before.deps.db
    .insertInto('meta')
    .values({ key: 'targets', value: JSON.stringify(own(LOW)) })
    .execute();
  await before.close();
  for (const start of ['first', 'second']) {
    const server = await testServer({}, undefined, folder);
    expect((await server.get('/api/targets')).body, start).toEqual({ targets: own(LOW) });
    const { body } = await server.post('/api/sync', { records: [], after: null });
    expect((body as { records: { kind: string }[] }).records.map((one) => one.kind)).toEqual(['targets']);
    await server.close();
  }
});

test('targets that are none leave the table as it is, and the list says why', async () => {
  const server = await testServer();
  const device = testDevice('Ada');
  await send(server, device.edit('visit', 'v1', thinVisit('v1')));
  const before = await verdicts(server);
  await send(server, device.edit('targets', 'own', own(row('own', '30,000', '40,000 plants/ac'))));
  const { items } = (await server.get('/api/things/targets')).body as { items: { problem: string | null }[] };
  expect(items[0]?.problem).toContain('rows.0.low');
  expect(await verdicts(server)).toEqual(before);
  await server.close();
});
