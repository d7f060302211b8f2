import { describe, expect, test } from 'vitest';
import { DEMO_VISITS } from '../../src/core/visit/demo/demoVisits.ts';
import { createClient } from '../../src/server/client/createClient.ts';
import { loadDemo } from '../../src/server/demo/loadDemo.ts';
import { fakePhoto, sha256Of, type TestServer, testDevice, testServer, testVisit } from './support.ts';

interface List {
  items: { id: string; date: string; fieldName: string; farmName: string; verdict: string | null }[];
  total: number;
  next: string | null;
}

const list = async (server: TestServer, query: string): Promise<List> => {
  const answer = await server.get(`/api/things/visit?${query}`);
  expect(answer.status, JSON.stringify(answer.body)).toBe(200);
  return answer.body;
};

async function withVisits() {
  const server = await testServer();
  const ada = testDevice('Ada');
  const place = (n: number) => ({ id: `field-${n}`, name: ['Ridge Forty', 'Creek Bottom'][n - 1] });
  const planting = (marketClass: string) => ({ id: `p-${marketClass}`, plantedOn: '2024-06-01', marketClass });
  const visits = [
    testVisit('v1', { visitedOn: '2024-06-10', season: 2024, field: place(1), planting: planting('navy') }),
    testVisit('v2', { visitedOn: '2025-06-12', season: 2025, field: place(1), planting: planting('pinto') }),
    testVisit('v3', { visitedOn: '2026-06-12', season: 2026, field: place(2), planting: planting('pinto') }),
    testVisit('v4', { visitedOn: '2026-06-20', season: 2026, field: place(2), planting: planting('navy') }),
  ];
  const records = visits.map((visit) => ada.edit('visit', visit.id, visit));
  await server.post('/api/sync', { records, after: null });
  return server;
}

describe('finding visits', () => {
  test('by field, season, class, verdict, dates and words, newest first', async () => {
    const server = await withVisits();
    const ids = async (query: string) => (await list(server, query)).items.map((item) => item.id).join(' ');
    expect(await ids('')).toBe('v4 v3 v2 v1');
    expect(await ids('field=field-1')).toBe('v2 v1');
    expect(await ids('season=2026')).toBe('v4 v3');
    expect(await ids('class=pinto')).toBe('v3 v2');
    expect(await ids('season=2026&class=navy')).toBe('v4');
    expect(await ids('from=2025-06-12&to=2026-06-12')).toBe('v3 v2');
    expect(await ids('search=creek%20PINTO')).toBe('v3');
    expect(await ids('search=hollow%20elm')).toBe('v4 v3 v2 v1');
    expect(await ids('search=100%25')).toBe('');
    expect(await ids('verdict=no%20such')).toBe('');
    const [first] = (await list(server, 'limit=1')).items;
    expect(first).toMatchObject({ fieldName: 'Creek Bottom', farmName: 'Hollow Elm Farm' });
    expect(await ids(`verdict=${encodeURIComponent(String(first?.verdict))}`)).toContain('v4');
    await server.close();
  });

  test('page by page, each once', async () => {
    const server = await withVisits();
    const seen: string[] = [];
    let after = '';
    for (;;) {
      const page = await list(server, `limit=1${after}`);
      expect(page.total).toBe(4);
      seen.push(...page.items.map((item) => item.id));
      if (page.next === null) break;
      after = `&after=${page.next}`;
    }
    expect(seen).toEqual(['v4', 'v3', 'v2', 'v1']);
    expect(await server.get('/api/things/visit?after=junk')).toMatchObject({
      status: 400,
      body: { error: { code: 'bad-request' } },
    });
    expect(await server.get('/api/things/visit?limit=9999')).toMatchObject({ status: 400 });
    expect(await server.get('/api/things/nothing')).toMatchObject({ status: 400 });
    await server.close();
  });

  test('the choices of the filters come with their numbers', async () => {
    const server = await withVisits();
    expect((await server.get('/api/choices')).body).toMatchObject({
      season: [
        { value: '2024', visits: 1 },
        { value: '2025', visits: 1 },
        { value: '2026', visits: 2 },
      ],
      class: [
        { value: 'navy', visits: 2 },
        { value: 'pinto', visits: 2 },
      ],
    });
    await server.close();
  });

  test('the demonstration farm: every visit valid, with a verdict, in fields that know their newest visit', async () => {
    const server = await testServer();
    expect(await loadDemo(server.deps as never)).toBe(true);
    expect(await loadDemo(server.deps as never)).toBe(true);
    const client = createClient('http://localhost', (input, init) =>
      Promise.resolve(server.app.request(input as Request, init)),
    );
    const visits = await client.api.things[':kind'].$get({ param: { kind: 'visit' }, query: {} });
    if (!visits.ok) throw new Error('refused');
    const { items, total } = await visits.json();
    expect(total).toBe(DEMO_VISITS.length);
    for (const item of items) expect([item.id, item.problem, item.verdict !== null]).toEqual([item.id, null, true]);
    const fields = await client.api.fields.$get({ query: {} });
    if (!fields.ok) throw new Error('refused');
    for (const { field, visit, planting } of (await fields.json()).items) {
      expect([visit?.field, planting?.field]).toEqual([field.id, field.id]);
    }
    await server.close();
  });

  test('the demonstration farm never mixes with other data', async () => {
    const server = await withVisits();
    expect(await loadDemo(server.deps as never)).toBe(false);
    expect((await list(server, '')).total).toBe(4);
    await server.close();
  });
});

describe('two dates of one spot', () => {
  const photo = sha256Of(fakePhoto(1, 50));
  const count = (id: string, sha256: string) => ({
    id,
    kind: 'photo',
    result: {
      schema: 'rowledger/count@1',
      photo: { file: 'row.jpg', sha256, takenAt: null },
      stretch: null,
      plants: [],
      count: { value: 30, low: 28, high: 33, level: 0.9 },
      gaps: [],
    },
  });
  const spot = (
    id: string,
    position: number[] | null,
    counts: object[] = [{ id: `c-${id}`, kind: 'rows', length: '10 ft', plants: [30] }],
  ) => ({
    id,
    ...(position === null ? {} : { position }),
    counts,
  });

  const withSpots = async () => {
    const server = await testServer();
    const ada = testDevice('Ada');
    // 0.0001 degrees of latitude are 11 m, 0.001 are 111 m.
    const first = testVisit('v1', {
      visitedOn: '2026-06-12',
      spots: [spot('s1', [47.1, -98.2], [count('c1', photo)]), spot('s2', null)],
    });
    const second = testVisit('v2', {
      visitedOn: '2026-06-20',
      spots: [spot('a', [47.1001, -98.2]), spot('b', [47.101, -98.2]), spot('s2', null)],
    });
    await server.post('/api/sync', { records: [first, second].map((v) => ada.edit('visit', v.id, v)), after: null });
    return server;
  };

  test('the same place is found by position, or by name where there is none', async () => {
    const server = await withSpots();
    const dates = async (visit: string, id: string) =>
      (
        (await server.get(`/api/spots/${visit}/${id}/dates`)).body as {
          dates: { spot: { id: string }; match: { by: string; distanceM: number | null } | null }[];
        }
      ).dates.map((one) => [one.spot.id, one.match?.by ?? 'itself', one.match?.distanceM?.toFixed(0) ?? null]);
    expect(await dates('v1', 's1')).toEqual([
      ['v2/a', 'position', '11'],
      ['v1/s1', 'itself', null],
    ]);
    expect(await dates('v1', 's2')).toEqual([
      ['v2/s2', 'name', null],
      ['v1/s2', 'itself', null],
    ]);
    expect(await dates('v2', 'b')).toEqual([['v2/b', 'itself', null]]);
    await server.close();
  });

  test('the pair comes earlier first, with counts and photos', async () => {
    const server = await withSpots();
    const pair = await server.get('/api/spots/pair?first=v2%2Fa&second=v1%2Fs1');
    expect(pair.body).toMatchObject({
      first: { spot: { id: 'v1/s1', date: '2026-06-12' }, photos: [{ photo, title: 'row.jpg' }] },
      second: { spot: { id: 'v2/a', date: '2026-06-20' }, document: { counts: [{ plants: [30] }] }, photos: [] },
      match: { by: 'position' },
    });
    expect(await server.get('/api/spots/pair?first=v1%2Fs1&second=v9%2Fs1')).toMatchObject({ status: 404 });
    await server.close();
  });
});
