import { describe, expect, test } from 'vitest';
import type { ChangeRecord } from '../../src/core/sync/changeRecord.ts';
import { type TestServer, temporaryFolder, testDevice, testServer, testVisit } from './support.ts';

interface Answer {
  accepted: string[];
  known: string[];
  refused: { id: string; code: string; message: string }[];
  records: ChangeRecord[];
  cursor: string;
  more: boolean;
  device: { records: number; lastSequence: number } | null;
}

const sync = async (server: TestServer, body: object): Promise<Answer> => {
  const answer = await server.post('/api/sync', { records: [], after: null, ...body });
  expect(answer.status, JSON.stringify(answer.body)).toBe(200);
  return answer.body;
};

const visitAt = async (server: TestServer, id = 'visit-1') =>
  (await server.get(`/api/things/visit/${id}`)).body as {
    row: { verdict: string | null; conflicts: number; problem: string | null };
    document: ReturnType<typeof testVisit> & { corrections?: unknown[]; note?: string };
    conflicts: { path: string; sides: { author: string; value?: unknown }[] }[];
  };

describe('sync', () => {
  test('a record is accepted once however often it comes, also after a restart', async () => {
    const folder = temporaryFolder();
    const ada = testDevice('Ada');
    const record = ada.edit('visit', 'visit-1', testVisit('visit-1'));
    const first = await testServer({}, undefined, folder);
    expect(await sync(first, { records: [record, record], device: record.device })).toMatchObject({
      accepted: [record.id],
      known: [record.id],
      refused: [],
      records: [record],
      more: false,
      device: { records: 1, lastSequence: 1 },
    });
    await first.close();
    const second = await testServer({}, undefined, folder);
    expect(await sync(second, { records: [record] })).toMatchObject({ accepted: [], known: [record.id] });
    expect((await second.get('/api/status')).body).toMatchObject({ records: 1, visits: 1 });
    await second.close();
  });

  test('a device receives what it lacks, page by page, nothing twice', async () => {
    const server = await testServer();
    const ada = testDevice('Ada');
    const records = Array.from({ length: 25 }, (_, i) => ada.edit('visit', `visit-${i}`, testVisit(`visit-${i}`)));
    await sync(server, { records });
    const received: string[] = [];
    let after: string | null = null;
    for (let more = true; more; ) {
      const answer: Answer = await sync(server, { after, limit: 10 });
      received.push(...answer.records.map((record) => record.id));
      ({ cursor: after, more } = answer);
    }
    expect(received).toEqual(records.map((record) => record.id));
    expect(await sync(server, { after })).toMatchObject({ records: [], more: false, cursor: after });
    const elsewhere = await server.post('/api/sync', { records: [], after: 'another-archive.3' });
    expect(elsewhere).toMatchObject({ status: 409, body: { error: { code: 'foreign-cursor' } } });
    await server.close();
  });

  test('a device that wants one season or field gets that, and the farms and fields', async () => {
    const server = await testServer();
    const ada = testDevice('Ada');
    const field = ada.edit('field', 'field-1', { schema: 'rowledger/field@1', id: 'field-1', name: 'Ridge Forty' });
    const old = ada.edit('visit', 'old', testVisit('old', { season: 2025 }));
    const here = ada.edit('visit', 'here', testVisit('here'));
    const other = ada.edit('visit', 'other', testVisit('other', { field: { id: 'field-2', name: 'Creek Bottom' } }));
    await sync(server, { records: [field, old, here, other] });
    const idsOf = async (scope: object) => (await sync(server, { scope })).records.map((record) => record.thing);
    expect(await idsOf({ season: '2026' })).toEqual(['field-1', 'here', 'other']);
    expect(await idsOf({ field: 'field-2' })).toEqual(['field-1', 'other']);
    expect((await sync(server, { scope: { season: '1999' } })).cursor).toBe((await sync(server, {})).cursor);
    await server.close();
  });

  test('refused records are named with the reason, and hold up no others', async () => {
    const server = await testServer();
    const ada = testDevice('Ada');
    const good = ada.edit('visit', 'visit-1', testVisit('visit-1'));
    const altered = { ...good, author: 'Somebody else' };
    const newer = { ...good, id: '11111111-1111-4111-8111-111111111111', schema: 'rowledger/record@2' };
    const unsafe = { ...good, id: '22222222-2222-4222-8222-222222222222', thing: '../../x' };
    const answer = await sync(server, { records: [good, altered, newer, unsafe, 'nonsense'] });
    expect(answer.accepted).toEqual([good.id]);
    expect(answer.refused.map(({ id, code }) => [id, code]).sort()).toEqual(
      [
        [good.id, 'record-changed'],
        [newer.id, 'too-new'],
        [unsafe.id, 'record-refused'],
        ['number 5 of the message', 'record-refused'],
      ].sort(),
    );
    expect(answer.refused.find((one) => one.id === newer.id)?.message).toBe(
      'Found a record of version 2; wanted a version this server knows. Update this server, then try again.',
    );
    await server.close();
  });

  test('a message fails as a whole when the disk does, and succeeds when sent again', async () => {
    const server = await testServer();
    const ada = testDevice('Ada');
    const record = ada.edit('visit', 'visit-1', testVisit('visit-1'));
    const broken = await testServer({
      db: new Proxy(server.deps.db, {
        get: (db, name) =>
          name === 'transaction'
            ? () => ({
                execute: (job: (tx: unknown) => Promise<unknown>) =>
                  db.transaction().execute(async (tx) => {
                    await job(tx);
                    throw Object.assign(new Error('database or disk is full'), { code: 'SQLITE_FULL' });
                  }),
              })
            : Reflect.get(db, name),
      }),
    });
    const failed = await broken.post('/api/sync', { records: [record], after: null });
    expect(failed).toMatchObject({ status: 507, body: { error: { code: 'disk-full' } } });
    expect((await server.get('/api/status')).body).toMatchObject({ records: 0, visits: 0 });
    expect(await sync(server, { records: [record] })).toMatchObject({ accepted: [record.id] });
    await broken.close();
    await server.close();
  });
});

describe('two devices and one visit', () => {
  const start = async () => {
    const server = await testServer();
    const [ada, ben] = [testDevice('Ada'), testDevice('Ben')];
    const first = ada.edit('visit', 'visit-1', testVisit('visit-1'));
    ben.learn([first]);
    await sync(server, { records: [first] });
    return { server, ada, ben };
  };
  const count = (plants: number) => [
    {
      id: 's1',
      by: 'ada',
      position: [47.1, -98.2],
      counts: [{ id: 'c1', kind: 'rows', length: '10 ft', plants: [plants] }],
    },
  ];

  test('work on different things comes together, on the server and on both phones', async () => {
    const { server, ada, ben } = await start();
    const spot2 = { id: 's2', counts: [{ id: 'c2', kind: 'rows', length: '10 ft', plants: [33] }] };
    const byAda = ada.edit('visit', 'visit-1', testVisit('visit-1', { spots: [...count(40), spot2] }));
    const byBen = ben.edit('visit', 'visit-1', testVisit('visit-1', { weather: { days: [], crust: 'soft' } }));
    const answer = await sync(server, { records: [byBen] });
    ben.learn(answer.records);
    ben.learn((await sync(server, { records: [byAda] })).records);
    ada.learn((await sync(server, {})).records);
    const there = await visitAt(server);
    expect(there.conflicts).toEqual([]);
    expect(there.document.spots.map((spot) => spot.id)).toEqual(['s1', 's2']);
    expect(there.document).toMatchObject({ weather: { crust: 'soft' } });
    expect(ada.document('visit', 'visit-1')).toEqual(there.document);
    expect(ben.document('visit', 'visit-1')).toEqual(there.document);
    await server.close();
  });

  test('the same number changed by both: both are kept and shown, and settling it reaches everybody', async () => {
    const { server, ada, ben } = await start();
    const byAda = ada.edit('visit', 'visit-1', testVisit('visit-1', { spots: count(38) }), 1);
    const byBen = ben.edit('visit', 'visit-1', testVisit('visit-1', { spots: count(43) }), 2);
    await sync(server, { records: [byBen] });
    await sync(server, { records: [byAda] });
    const there = await visitAt(server);
    expect(there.conflicts.map((c) => c.sides.map((side) => [side.author, side.value]))).toEqual([
      [
        ['Ben', [43]],
        ['Ada', [38]],
      ],
    ]);
    const listed = (await server.get('/api/things/visit?conflicts=open')).body as { total: number };
    expect(listed.total).toBe(1);
    const history = (await server.get('/api/things/visit/visit-1/records')).body as { records: ChangeRecord[] };
    expect(history.records.map((record) => [record.author, record.at.slice(11, 16)])).toEqual([
      ['Ada', '10:00'],
      ['Ben', '10:02'],
      ['Ada', '10:01'],
    ]);
    ada.learn(history.records);
    await sync(server, { records: [ada.edit('visit', 'visit-1', testVisit('visit-1', { spots: count(41) }), 5)] });
    expect((await visitAt(server)).conflicts).toEqual([]);
    expect((await visitAt(server)).document.spots).toEqual(count(41));
    await server.close();
  });

  test('corrections of different detections merge; of the same one, unseen and different, they are shown side by side', async () => {
    const { server, ada, ben } = await start();
    const correction = (id: string, by: string, change: object) => ({
      id,
      at: '2026-06-20T10:00:00Z',
      by,
      countId: 'c1',
      change,
    });
    const remove = (plantId: string) => ({ kind: 'remove plant', plantId });
    const weed = (plantId: string) => ({ kind: 'name plant', plantId, as: 'weed' });
    const byAda = ada.edit(
      'visit',
      'visit-1',
      testVisit('visit-1', {
        corrections: [correction('a1', 'ada', remove('p1')), correction('a2', 'ada', remove('p2'))],
      }),
    );
    const byBen = ben.edit(
      'visit',
      'visit-1',
      testVisit('visit-1', { corrections: [correction('b1', 'ben', weed('p2')), correction('b2', 'ben', weed('p3'))] }),
    );
    await sync(server, { records: [byAda, byBen] });
    const there = await visitAt(server);
    expect(there.document.corrections).toHaveLength(4);
    expect(there.conflicts.map((c) => [c.path, c.sides.map((side) => [side.author, side.value])])).toEqual([
      [
        '/corrections',
        [
          ['Ada', remove('p2')],
          ['Ben', weed('p2')],
        ],
      ],
    ]);
    ben.learn([byAda]);
    const corrections = [...(ben.document('visit', 'visit-1') as { corrections: object[] }).corrections];
    const settled = ben.edit(
      'visit',
      'visit-1',
      testVisit('visit-1', { corrections: [...corrections, correction('b3', 'ben', remove('p2'))] }),
    );
    await sync(server, { records: [settled] });
    expect((await visitAt(server)).conflicts).toEqual([]);
    expect((await visitAt(server)).document.corrections).toHaveLength(5);
    await server.close();
  });

  test('a visit that two edits left invalid is kept, found, and says what is wrong with it', async () => {
    const { server, ada } = await start();
    const broken = ada.edit('visit', 'visit-1', { ...testVisit('visit-1'), visitedOn: '2026-05-01' });
    await sync(server, { records: [broken] });
    const there = await visitAt(server);
    expect(there.row.problem).toContain('before planting.plantedOn');
    expect(((await server.get('/api/things/visit?search=ridge')).body as { total: number }).total).toBe(1);
    await server.close();
  });
});
