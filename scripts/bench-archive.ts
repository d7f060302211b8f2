/**
 * How fast the archive answers when it holds 10,000 visits and 30,000 photos. Seeded: two runs hold the same.
 * Prints start-up, every list, search and view (wall time: least, median and slowest of 15; and the processor time of
 * the middle one, which a busy machine leaves alone), and what filling it took.
 *
 *   npx tsx scripts/bench-archive.ts [visits]
 */
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import type { ChangeRecord } from '../src/core/sync/changeRecord.ts';
import { editThing, NOTHING_YET } from '../src/core/sync/editThing.ts';
import type { Json } from '../src/core/sync/json.ts';
import { createApp } from '../src/server/app.ts';
import { openArchive } from '../src/server/openArchive.ts';
import { acceptRecords } from '../src/server/store/acceptRecords.ts';

const VISITS = Number(process.argv[2] ?? 10_000);
const PHOTOS_A_VISIT = 3;
const BATCH = 200;
const REPEATS = 15;
const CLASSES = ['pinto', 'navy', 'black', 'kidney', 'cranberry', 'great northern'];

const hex = (name: string) => createHash('sha256').update(name).digest('hex');
const idOf = (name: string) =>
  hex(name).replace(/^(.{8})(.{4}).(.{3}).(.{3})(.{12}).*$/, (_m, a, b, c, d, e) => `${a}-${b}-4${c}-8${d}-${e}`);

function plantsOf(n: number) {
  return Array.from({ length: 30 }, (_, i) => ({
    id: `p${i + 1}`,
    xPx: 100 + i * 90.25,
    yPx: 700 + ((n * 7 + i * 13) % 40),
    alongM: Number((i * 0.1).toFixed(3)),
    acrossM: 0.01,
    kind: 'plant',
    inStretch: true,
    confidence: 0.9,
  }));
}

function visitOf(n: number) {
  const field = n % 1000;
  const season = 2020 + (n % 7);
  const day = `${season}-06-${String(5 + (n % 24)).padStart(2, '0')}`;
  return {
    schema: 'rowledger/visit@2',
    id: `visit-${n}`,
    visitedOn: day,
    units: 'imperial',
    people: [{ id: 'ada', name: 'Ada Lind' }],
    farm: { id: `farm-${field % 100}`, name: `Farm ${field % 100}` },
    field: { id: `field-${field}`, name: `Field ${field}` },
    season,
    planting: {
      id: `planting-${field}-${season}`,
      plantedOn: `${season}-05-20`,
      marketClass: CLASSES[n % CLASSES.length],
      rowWidth: '30 in',
    },
    spots: Array.from({ length: PHOTOS_A_VISIT }, (_, s) => ({
      id: `s${s + 1}`,
      position: [47 + field * 0.01 + s * 0.001, -98],
      counts: [
        {
          id: `c${s + 1}`,
          kind: 'photo',
          result: {
            schema: 'rowledger/count@1',
            photo: { file: `row-${s}.jpg`, sha256: hex(`photo ${n} ${s}`), takenAt: null },
            stretch: { fromM: 0, toM: 3.048, lengthM: 3.048 },
            plants: plantsOf(n + s),
            count: { value: 30, low: 28, high: 33, level: 0.9 },
            gaps: [],
          },
        },
      ],
    })),
  };
}

function recordOf(n: number): ChangeRecord {
  const visit = visitOf(n);
  return {
    schema: 'rowledger/record@1',
    id: idOf(`record ${n}`),
    device: `phone-${n % 20}`,
    sequence: Math.floor(n / 20) + 1,
    author: 'Ada Lind',
    at: `${visit.visitedOn}T12:00:00.000Z`,
    kind: 'visit',
    thing: visit.id,
    parents: [],
    changes: editThing(NOTHING_YET, visit as unknown as Json),
  };
}

const folder = mkdtempSync(join(tmpdir(), 'rowledger-bench-'));
const line = (name: string, value: string) => console.log(`${name.padEnd(58)} ${value}`);
try {
  console.log(`${VISITS} visits, ${VISITS * PHOTOS_A_VISIT} photos; Node ${process.version}, ${cpus().length} cores\n`);
  const filling = performance.now();
  const cpuMs = () => process.cpuUsage().user / 1000 + process.cpuUsage().system / 1000;
  const fillingCpu = cpuMs();
  const first = await openArchive(folder);
  for (let n = 0; n < VISITS; n += BATCH) {
    const records = Array.from({ length: Math.min(BATCH, VISITS - n) }, (_, i) => recordOf(n + i));
    const { refused } = await acceptRecords(first.db, records, '2026-11-25T00:00:00.000Z');
    if (refused.length > 0) throw new Error(JSON.stringify(refused[0]));
  }
  const accepted = performance.now();
  line(
    'records accepted, merged, judged and indexed',
    `${((accepted - filling) / VISITS).toFixed(2)} ms a visit (processor ${((cpuMs() - fillingCpu) / VISITS).toFixed(2)} ms)`,
  );
  await first.db.transaction().execute(async (tx) => {
    for (let n = 0; n < VISITS; n++) {
      for (let s = 0; s < PHOTOS_A_VISIT; s++) {
        const sha256 = hex(`photo ${n} ${s}`);
        const path = first.photos.pathOf(sha256);
        mkdirSync(join(path, '..'), { recursive: true });
        writeFileSync(path, Buffer.from([0xff, 0xd8, 0xff, 0xe0, n & 255, s]));
        await tx
          .insertInto('photo_file')
          .values({ sha256, bytes: 6, type: 'image/jpeg', stored_at: '2026-11-25' })
          .execute();
      }
    }
  });
  await first.close();

  const starting = performance.now();
  const startingCpu = cpuMs();
  const archive = await openArchive(folder);
  const app = createApp({
    ...archive,
    token: null,
    hosts: null,
    uiFolder: null,
    version: 'bench',
    report: (error) => console.error(error),
  });
  await app.request('/api/things/visit');
  line(
    'start-up to first list answered',
    `${(performance.now() - starting).toFixed(0)} ms (processor ${(cpuMs() - startingCpu).toFixed(0)} ms)`,
  );

  const last = `visit-${VISITS - 1}`;
  const photo = hex(`photo ${VISITS - 1} 0`);
  const middle = (await (await app.request('/api/things/visit?limit=200')).json()) as { next: string };
  let after = middle.next;
  for (let page = 0; page < 20; page++) {
    const answer = (await (await app.request(`/api/things/visit?limit=200&after=${after}`)).json()) as {
      next: string | null;
    };
    if (answer.next === null) break;
    after = answer.next;
  }
  const post = (path: string, body: object) =>
    app.request(path, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  const status = (await (await app.request('/api/status')).json()) as { archive: string };
  const asked: readonly [string, () => Response | Promise<Response>][] = [
    ['visits, newest 50', () => app.request('/api/things/visit')],
    ['visits, page at about 4,200', () => app.request(`/api/things/visit?after=${after}`)],
    ['visits of a season', () => app.request('/api/things/visit?season=2024')],
    ['visits of a field', () => app.request('/api/things/visit?field=field-77')],
    ['visits of a class', () => app.request('/api/things/visit?class=navy')],
    ['visits by verdict', () => app.request('/api/things/visit?verdict=too%20few%20spots')],
    ['visits between two days', () => app.request('/api/things/visit?from=2023-06-10&to=2023-06-20')],
    ['visits of season, class and verdict', () => app.request('/api/things/visit?season=2024&class=navy&verdict=keep')],
    [
      'visits of season, class, verdict, days and words',
      () =>
        app.request(
          '/api/things/visit?season=2024&class=navy&verdict=too%20few%20spots&from=2024-06-01&to=2024-06-20&search=field%207',
        ),
    ],
    ['own targets', () => app.request('/api/targets')],
    ['visits by words, many found', () => app.request('/api/things/visit?search=field%207%20pinto')],
    ['visits by words, none found', () => app.request('/api/things/visit?search=zzz%20qqq')],
    ['visits with open conflicts', () => app.request('/api/things/visit?conflicts=open')],
    ['photos, newest 200', () => app.request('/api/things/photo?limit=200')],
    ['photos of a field', () => app.request('/api/things/photo?field=field-77')],
    [
      'photos of a class in a season, by words',
      () => app.request('/api/things/photo?season=2024&class=navy&search=row-1'),
    ],
    ['spots of a visit', () => app.request(`/api/things/spot?visit=${last}`)],
    ['fields with their newest visit, 50', () => app.request('/api/fields')],
    ['choices of the filters', () => app.request('/api/choices')],
    ['one visit, whole', () => app.request(`/api/things/visit/${last}`)],
    ['history of one visit', () => app.request(`/api/things/visit/${last}/records`)],
    ['dates of one spot', () => app.request(`/api/spots/${last}/s1/dates`)],
    ['two dates of one spot', () => app.request(`/api/spots/pair?first=visit-77%2Fs1&second=visit-78%2Fs1`)],
    ['state of the archive', () => app.request('/api/status')],
    ['is a photo here', () => app.request(`/api/photos/${photo}/upload`)],
    [
      'which of 500 photos are missing',
      () => post('/api/photos/wanted', { photos: Array.from({ length: 500 }, (_, i) => hex(`photo ${i} 0`)) }),
    ],
    ['sync, nothing new', () => post('/api/sync', { records: [], after: `${status.archive}.${VISITS}` })],
    ['sync, 50 records received', () => post('/api/sync', { records: [], after: `${status.archive}.0`, limit: 50 })],
    [
      'sync, one season, 50 records',
      () => post('/api/sync', { records: [], after: null, limit: 50, scope: { season: '2024' } }),
    ],
    [
      'sync, one visit sent again',
      () => post('/api/sync', { records: [recordOf(1)], after: `${status.archive}.${VISITS}` }),
    ],
  ];
  console.log(`\n${'request'.padEnd(58)} least  median slowest | processor (ms)`);
  let slowest = 0;
  let mostWork = 0;
  for (const [name, ask] of asked) {
    const times: number[] = [];
    const work: number[] = [];
    for (let i = 0; i < REPEATS; i++) {
      const start = performance.now();
      const startCpu = cpuMs();
      const answer = await ask();
      await answer.arrayBuffer();
      times.push(performance.now() - start);
      work.push(cpuMs() - startCpu);
      if (answer.status !== 200) throw new Error(`${name}: ${answer.status}`);
    }
    times.sort((a, b) => a - b);
    work.sort((a, b) => a - b);
    const middleWork = work[REPEATS >> 1] as number;
    mostWork = Math.max(mostWork, middleWork);
    slowest = Math.max(slowest, times.at(-1) as number);
    const shown = [times[0], times[REPEATS >> 1], times.at(-1)].map((t) => (t as number).toFixed(1).padStart(7));
    line(name, `${shown.join(' ')} | ${middleWork.toFixed(1).padStart(7)}`);
  }
  console.log(`\nslowest of all ${slowest.toFixed(1)} ms, most processor time ${mostWork.toFixed(1)} ms (bar: 100 ms)`);
  await archive.close();
} finally {
  rmSync(folder, { recursive: true, force: true });
}
