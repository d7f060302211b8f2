import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { seededRandom } from '../../src/core/statistics/seededRandom.ts';
import { breakingLine, newProfile, openBrowser, shot, startServer } from './support.ts';
import {
  addField,
  addPhoto,
  allSent,
  backToWalk,
  SAMPLE,
  sayName,
  setUpPhotos,
  startVisit,
  tally,
} from './walkSteps.ts';

const SECOND = 'sample-images/down-tape-inch.jpg';
const DROPS = 20;

interface Visit {
  readonly spots: readonly {
    readonly counts: readonly { readonly kind: string; readonly plants: readonly number[] }[];
  }[];
  readonly impressions: readonly unknown[];
}

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

/** The whole story once: load, lose the network, restart, work, be killed, come back, send over the given line. */
describe('a visit without network, killed in the middle, sent over a line that breaks 20 times', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let line: Awaited<ReturnType<typeof breakingLine>>;
  let browser: BrowserContext;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    line = await breakingLine(server.address);
    browser = await openBrowser(profile);
  });
  afterAll(async () => {
    await browser.close();
    await line.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });
  const firstPage = async (): Promise<Page> => browser.pages()[0] ?? (await browser.newPage());

  test('loaded once, it opens with the network cut and the browser restarted', async () => {
    const page = await firstPage();
    await page.goto(`${line.address}/#/settings`);
    await page.getByText('Opens and counts without network').waitFor({ timeout: 120_000 });
    await browser.close();
    line.cut();
    browser = await openBrowser(profile);
    const again = await firstPage();
    await again.goto(line.address);
    await again.getByText('Add a field').waitFor();
    await again.getByText('No field on this device yet.').waitFor();
  });

  test('a visit with two photos and a tally, killed in the middle of the tally', async () => {
    const page = await firstPage();
    await sayName(page);
    await addField(page, 'Windmill Sixty');
    await startVisit(page);
    await setUpPhotos(page);
    await addPhoto(page, SAMPLE);
    await backToWalk(page);
    await addPhoto(page, SECOND);
    await backToWalk(page);
    await tally(page, 17);
    await page.locator('[data-testid=tally][data-kept=true]').waitFor();
    // Kept means on the disk, not in a page's memory: no time to say goodbye.
    await killBrowser(profile);
    browser = await openBrowser(profile);
    const again = await firstPage();
    await again.goto(line.address);
    await again.getByText('Windmill Sixty').click();
    await again.getByRole('heading', { name: 'Windmill Sixty' }).waitFor();
    await again.locator('.list .row-link').first().click();
    await again.getByText('Spot 3', { exact: true }).waitFor();
    await again.getByText('17 plants, by hand').waitFor();
    await again.getByText('waiting for network').waitFor();
    await shot(again, 'offline-waiting');
    expect((await server.get('/api/status')) as { records: number }).toMatchObject({ records: 0, photos: 0 });
  });

  test('back online: every byte, every edit, once, however often the line drops', async () => {
    const page = await firstPage();
    await page.getByText('Spot 3', { exact: true }).click();
    await page.getByText('Go on counting').click();
    await page.getByRole('button', { name: '+ plant' }).click();
    const bytes = [SAMPLE, SECOND].map((path) => readFileSync(path));
    const total = bytes.reduce((sum, photo) => sum + photo.length, 0);
    const random = seededRandom(20);
    line.mend(Array.from({ length: DROPS }, () => Math.floor(random() * total * 0.98)).sort((a, b) => a - b));
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await allSent(page, 120_000);
    console.log(`dropped ${line.dropped()} times; ${line.sentBytes()} bytes went up for photos of ${total}`);
    expect(line.dropped()).toBe(DROPS);

    for (const photo of bytes) {
      const hash = createHash('sha256').update(photo).digest('hex');
      const kept = new Uint8Array(await (await fetch(`${server.address}/api/photos/${hash}`)).arrayBuffer());
      expect(Buffer.compare(kept, photo)).toBe(0);
    }
    expect((await server.get('/api/status')) as { photos: number }).toMatchObject({
      photos: 2,
      visits: 1,
      conflicts: 0,
    });
    const list = (await server.get('/api/things/visit')) as { items: { id: string; problem: string | null }[] };
    expect(list.items.map((one) => one.problem)).toEqual([null]);
    const { document } = (await server.get(`/api/things/visit/${list.items[0]?.id}`)) as { document: Visit };
    expect(document.spots.map((spot) => spot.counts.map((count) => count.kind))).toEqual([
      ['photo'],
      ['photo'],
      ['rows'],
    ]);
    expect(document.spots[2]?.counts[0]?.plants).toEqual([18]);
    expect(document.impressions).toHaveLength(1);
    const { records } = (await server.get(`/api/things/visit/${list.items[0]?.id}/records`)) as {
      records: { id: string; sequence: number }[];
    };
    expect(new Set(records.map((record) => record.id)).size).toBe(records.length);
    expect(new Set(records.map((record) => record.sequence)).size).toBe(records.length);
    // A line that breaks is no fault of the server.
    expect(server.reported).toEqual([]);
  });
});

/** Ends the browser of a profile as a dead battery would. Only processes that this test started carry its profile. */
async function killBrowser(profile: string): Promise<void> {
  const killed: string[] = [];
  for (const entry of readdirSync('/proc')) {
    if (!/^\d+$/.test(entry)) continue;
    try {
      const command = readFileSync(`/proc/${entry}/cmdline`, 'utf8');
      if (!command.includes(`--user-data-dir=${profile}`)) continue;
      process.kill(Number(entry), 'SIGKILL');
      killed.push(entry);
    } catch {
      // Gone already.
    }
  }
  // A profile opens only when nobody holds it.
  await vi.waitFor(() => expect(killed.filter((entry) => existsSync(`/proc/${entry}`))).toEqual([]), 30_000);
}
