import { expect, test } from 'vitest';
import { toPerSquareMetre } from '../../src/core/units/density.ts';
import { testDevice, testServer, testVisit } from './support.ts';

const plants = (each: number) =>
  Array.from({ length: 6 }, (_, i) => ({
    id: `s${i}`,
    counts: [{ id: `c${i}`, kind: 'rows', length: '10 ft', plants: [each + (i % 2)] }],
  }));
const own = (low: string, high: string) => ({
  schema: 'rowledger/targets@1',
  name: 'Hollow Elm Farm',
  rows: [{ id: 'own', marketClass: 'pinto', of: 'plants', low, high }],
});

test('targets of the organisation are kept, used for new visits, and move the verdicts of old ones', async () => {
  const server = await testServer();
  expect((await server.get('/api/targets')).body).toEqual({ targets: null });
  // 16.5 plants in 10 ft of 30 in rows: 16.5 / 23.226e-4 ha, about 28,750 an acre.
  expect(toPerSquareMetre(28_750, 'perAcre') * 3.048 * 0.762).toBeCloseTo(16.5, 1);
  const device = testDevice('Ada');
  const send = async (id: string) => expect((await sync(id)).body).toMatchObject({ refused: [] });
  const sync = (id: string) =>
    server.post('/api/sync', {
      records: [device.edit('visit', id, testVisit(id, { visitedOn: '2026-07-02', spots: plants(16) }))],
      after: null,
    });
  const verdicts = async () =>
    ((await server.get('/api/things/visit')).body as { items: { id: string; verdict: string }[] }).items
      .map((item) => [item.id, item.verdict])
      .sort();
  await send('v1');
  const [[, before]] = (await verdicts()) as [[string, string]];
  expect(before).not.toBe('keep');
  expect((await server.post('/api/targets', own('28,000 plants/ac', '30,000 plants/ac'))).status).toBe(200);
  await expect.poll(verdicts).toEqual([['v1', 'keep']]);
  await send('v2');
  expect(await verdicts()).toEqual([
    ['v1', 'keep'],
    ['v2', 'keep'],
  ]);
  expect((await server.get('/api/targets')).body).toEqual({ targets: own('28,000 plants/ac', '30,000 plants/ac') });
  await server.post('/api/targets', { ...own('1 plants/ac', '1 plants/ac'), rows: [] });
  await expect.poll(verdicts).toEqual([
    ['v1', before],
    ['v2', before],
  ]);
  expect(server.reported).toEqual([]);
  await server.close();
});

test('targets that are none are refused by name, and nothing changes', async () => {
  const server = await testServer();
  for (const [targets, place] of [
    [own('30,000', '40,000 plants/ac'), 'rows.0.low'],
    [own('40,000 plants/ac', '30,000 plants/ac'), 'population'],
    [{ ...own('1 plants/ac', '2 plants/ac'), without: ['nowhere'] }, 'nowhere'],
  ] as const) {
    const answer = (await server.post('/api/targets', targets)) as {
      status: number;
      body: { error: { found: string } };
    };
    expect(answer.status).toBe(400);
    expect(answer.body.error.found).toContain(place);
  }
  expect((await server.get('/api/targets')).body).toEqual({ targets: null });
  await server.close();
});
