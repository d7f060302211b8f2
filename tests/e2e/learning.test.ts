import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { FARMS, simulatedPhotos } from '../../scripts/learning/simulatedFarm.ts';
import { FEATURE_NAMES } from '../../src/core/learning/featureNames.ts';
import { newProfile, openBrowser, shot, startServer, watchErrors } from './support.ts';
import { addField, addPhoto, SAMPLE, sayName, setUpPhotos, startVisit } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 180_000 });

// A farm with a weed that the stock detector takes for a bean: marks are simulated, see scripts/learning-season.ts.
const SORTS = FARMS['a weed that looks like a bean to the stock detector']!;
const DETECTOR = { name: 'simulated', version: '1' };
const PHOTOS = 12;
const sha256 = (k: number) => String(k).padStart(64, '0');

/** What a device holds of a visit with so many checked photos: its document, and a machine record for each photo. */
function heldFarm() {
  const photos = simulatedPhotos(SORTS, PHOTOS, 7).map((photo, k) => ({
    ...photo,
    result: {
      ...photo.result,
      photo: { ...photo.result.photo, sha256: sha256(k) },
      stretch: { fromM: 0, toM: 3, lengthM: 3 },
    },
  }));
  const visit = {
    schema: 'rowledger/visit@2',
    id: 'visit-1',
    visitedOn: '2026-06-16',
    units: 'imperial',
    people: [{ id: 'ann', name: 'Ann' }],
    farm: { id: 'farm-1', name: 'Stone Gate Farm' },
    field: { id: 'field-1', name: 'North' },
    season: 2026,
    planting: { id: 'planting-1', plantedOn: '2026-06-01', marketClass: 'pinto', rowWidth: '30 in' },
    spots: photos.map(({ result }, k) => ({ id: `s${k + 1}`, counts: [{ id: `c${k}`, kind: 'photo', result }] })),
    corrections: photos.flatMap(({ corrections }, k) =>
      corrections.map((one) => ({ ...one, id: `${k}-${one.id}`, by: 'ann', countId: `c${k}` })),
    ),
  };
  const records = photos.map(({ result, stock, features }, k) => {
    const marks = stock.map(({ id, kind, confidence, doubleChance }, m) => ({
      id,
      kind,
      confidence,
      doubleChance,
      features: features![m]!,
    }));
    const value = {
      schema: 'rowledger/detections@1',
      photo: sha256(k),
      model: DETECTOR,
      code: 'test',
      at: '2026-06-16T15:00:00.000Z',
      result,
      stock: { detector: DETECTOR, featureNames: [...FEATURE_NAMES], marks },
    };
    const id = `00000000-0000-4000-8000-${String(k).padStart(12, '0')}`;
    const about = { schema: 'rowledger/record@1', device: 'd', sequence: k + 1, author: 'Ann', parents: [] };
    const record = {
      ...about,
      id,
      at: value.at,
      kind: 'detections',
      thing: id,
      changes: [{ path: '', value, replaces: [] }],
    };
    return { id, thingKey: `detections/${id}`, record };
  });
  return { visit, records };
}

async function hold(page: Page): Promise<void> {
  await page.evaluate(async ({ visit, records }) => {
    const db = await new Promise<IDBDatabase>((resolve, reject) => {
      const request = indexedDB.open('rowledger');
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const tx = db.transaction(['things', 'rows', 'records', 'settings'], 'readwrite');
    const about = { thingKey: 'visit/visit-1', kind: 'visit', thing: 'visit-1' };
    tx.objectStore('things').put({ ...about, document: visit, conflicts: [] });
    const brief = {
      farm: visit.farm,
      field: visit.field,
      planting: visit.planting,
      visitedOn: visit.visitedOn,
      spots: [],
    };
    tx.objectStore('rows').put({ ...about, brief, conflicts: 0, updatedAt: '2026-06-16T15:00:00Z' });
    for (const one of records) tx.objectStore('records').put(one);
    tx.objectStore('settings').put({ name: 'Ann' }, 'person');
    await new Promise((resolve) => {
      tx.oncomplete = resolve;
    });
    db.close();
  }, heldFarm());
}

let server: Awaited<ReturnType<typeof startServer>>;
let browser: BrowserContext;
const profile = newProfile();

beforeAll(async () => {
  server = await startServer({ demo: false });
  browser = await openBrowser(profile);
});
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(profile, { recursive: true, force: true });
});

test('a counted photo keeps what the stock detector said, and teaches once somebody says that it was checked', async () => {
  const page = await browser.newPage();
  await page.goto(server.address);
  await sayName(page);
  await addField(page, 'Checked');
  await startVisit(page);
  await setUpPhotos(page);
  await addPhoto(page, SAMPLE);
  const link = async () => {
    await page.getByRole('link', { name: 'Settings' }).click();
    await page.getByRole('link', { name: 'Hollow Elm Farm' }).click();
  };
  await page.getByRole('button', { name: 'I looked at every mark' }).click();
  await page.getByRole('button', { name: /^Every mark looked at by Ina Voss/ }).waitFor();
  await link();
  await page.getByRole('heading', { name: '1 checked photo' }).waitFor();
  await page.getByRole('button', { name: 'Compare: stock detector and learned' }).click();
  await page.getByText('1 checked photo is too few').waitFor();
  await page.goBack();
  await page.goBack();
  await page.getByRole('button', { name: /^Every mark looked at/ }).click();
  await page.getByRole('button', { name: 'I looked at every mark' }).waitFor();
  await link();
  await page.getByRole('heading', { name: '0 checked photos' }).waitFor();
  await page.close();
});

test('corrections are learned from in the background, shown before and after, taken, and put back', async () => {
  const page = browser.pages()[0] ?? (await browser.newPage());
  const errors = watchErrors(page);
  const fetched: string[] = [];
  page.on('response', (answer) => fetched.push(answer.url()));
  await page.goto(`${server.address}/#/settings`);
  await page.getByRole('heading', { name: 'Settings' }).waitFor();
  await hold(page);
  await page.reload();
  await page.getByRole('link', { name: 'Stone Gate Farm' }).click();
  await page.getByRole('heading', { name: `${PHOTOS} checked photos` }).waitFor();
  await page.getByRole('radio', { name: 'Stock detector', checked: true }).waitFor();

  await page.getByRole('button', { name: 'Compare: stock detector and learned' }).click();
  await page.getByText('It pays:').waitFor();
  const [before, after] = ((await page.locator('.big').textContent()) ?? '').split('to').map(Number);
  expect(after).toBeLessThan(before!);
  await shot(page, 'learning');

  await page.getByRole('button', { name: 'Use it for new counts' }).click();
  await page.getByText('In use for new counts.').waitFor();
  await page.getByRole('radio', { name: /^Learned/, checked: true }).waitFor();
  // What was counted before is not touched: it is listed, with the way to count it again.
  await page.getByRole('heading', { name: `${PHOTOS} counts by another detector` }).waitFor();

  await page.reload();
  await page.getByRole('radio', { name: /^Learned/, checked: true }).waitFor();
  // The list of other counts follows the record: without it a reload may come before the record is kept.
  const others = page.getByRole('heading', { name: `${PHOTOS} counts by another detector` });
  await others.waitFor();
  await page.getByRole('radio', { name: 'Stock detector' }).check();
  await others.waitFor({ state: 'hidden' });
  await page.reload();
  await page.getByRole('radio', { name: /^Learned/ }).waitFor();
  await page.getByRole('radio', { name: 'Stock detector', checked: true }).waitFor();
  expect(errors).toEqual([]);
});
