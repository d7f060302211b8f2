import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { faultsOf, tabTo } from './checkPage.ts';
import { newProfile, openBrowser, startServer, watchErrors } from './support.ts';
import { addField, daysAgo, sayName, tally } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

/** An invented field: 0.005 by 0.008 degrees at 47 N, about 555.8 by 608.6 m on WGS 84, 338,000 m2, 83.6 ac. */
const [SOUTH, NORTH, WEST, EAST] = [47.0, 47.005, -98.0, -97.992] as const;
const GEOJSON = JSON.stringify({
  type: 'FeatureCollection',
  features: [
    {
      type: 'Feature',
      properties: { name: 'Far Side' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [-98.1, 47],
            [-98.09, 47],
            [-98.09, 47.01],
            [-98.1, 47],
          ],
        ],
      },
    },
    {
      type: 'Feature',
      properties: { name: 'Gate Field' },
      geometry: {
        type: 'Polygon',
        coordinates: [
          [
            [WEST, SOUTH],
            [EAST, SOUTH],
            [EAST, NORTH],
            [WEST, NORTH],
            [WEST, SOUTH],
          ],
        ],
      },
    },
  ],
});

describe('a field with an outline, and its visits found again', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;
  let errors: string[];
  const faults: string[] = [];
  const check = async (place: string) => faults.push(...(await faultsOf(page, place)));
  const stand = (latitude: number, longitude: number, accuracy = 4) =>
    browser.setGeolocation({ latitude, longitude, accuracy });
  /** The distance and the way as said on the page; null while no position is known. */
  const wayToGo = async () => {
    const text = (await page.getByTestId('way').textContent()) ?? '';
    const [, feet] = /^([\d,]+) ft/.exec(text) ?? [];
    if (feet !== undefined) return { text, metres: Number(feet.replace(',', '')) * 0.3048 };
    return text.startsWith('You are there') ? { text, metres: 0 } : null;
  };
  const metresToGo = async () => (await wayToGo())?.metres;
  /** Until another way is said than before. At a new position Chromium says for a moment that it knows none. */
  const otherWay = async (before: string) => {
    let now: Awaited<ReturnType<typeof wayToGo>> = null;
    await expect
      .poll(async () => {
        now = await wayToGo();
        return now?.text ?? before;
      })
      .not.toBe(before);
    return now as unknown as { text: string; metres: number };
  };

  beforeAll(async () => {
    server = await startServer({ demo: true });
    browser = await openBrowser(profile, { viewport: { width: 390, height: 844 } });
    page = browser.pages()[0] ?? (await browser.newPage());
    errors = watchErrors(page);
    await browser.grantPermissions(['geolocation'], { origin: server.address });
    await stand(SOUTH, WEST);
    await page.goto(server.address);
    await sayName(page);
    await page.getByText('River Eighty').waitFor();
    await addField(page, 'Gate Field');
  });
  // What one test left undone is no concern of the next.
  afterEach(() => browser.setOffline(false));
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  test('pasted by keyboard: of two fields the one of this name', async () => {
    await tabTo(page, 'Add an outline');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Outline' }).waitFor();
    await tabTo(page, 'Or paste GeoJSON');
    await page.keyboard.insertText('{"type":"Point"}');
    await page.getByText('no polygon').waitFor();
    await page.keyboard.press('Control+A');
    await page.keyboard.insertText(GEOJSON);
    await page.getByText('4 corners').waitFor();
    await expect.poll(() => page.locator('.big').textContent()).toBe('84 ac');
    await check('outline');
    await page.getByRole('link', { name: 'Back to the field' }).click();
  });

  test('the walk leads to points inside it, by distance and bearing from the phone, with the network cut', async () => {
    await page.getByRole('button', { name: 'Start a visit' }).click();
    await page.getByRole('button', { name: 'Unsure' }).click();
    await page.getByTestId('way').waitFor();
    await expect.poll(metresToGo).toBeGreaterThan(0);
    await page.context().setOffline(true);
    const first = await otherWay('');
    expect(first.metres).toBeLessThan(Math.hypot(555.8, 608.6));
    await expect.poll(() => page.getByTestId('way').textContent()).toMatch(/ft (N|NE|E) /);
    await check('walk-gps');
    // Walk up the numbers: from three places the stop is where its three distances say.
    let best = { off: Number.POSITIVE_INFINITY, at: [0, 0] as readonly [number, number] };
    const far: (readonly [number, number, number])[] = [[SOUTH, WEST, first.metres]];
    let said = first.text;
    for (const [latitude, longitude] of [
      [SOUTH, EAST],
      [NORTH, WEST],
    ] as const) {
      await stand(latitude, longitude);
      const way = await otherWay(said);
      far.push([latitude, longitude, way.metres]);
      said = way.text;
    }
    for (let i = 0; i <= 100; i++) {
      for (let j = 0; j <= 100; j++) {
        const at = [SOUTH + (i / 100) * (NORTH - SOUTH), WEST + (j / 100) * (EAST - WEST)] as const;
        const off = far.reduce((sum, [latitude, longitude, metres]) => {
          const reach = Math.hypot((at[0] - latitude) * 111_167, (at[1] - longitude) * 76_056);
          return sum + Math.abs(reach - metres);
        }, 0);
        if (off < best.off) best = { off, at };
      }
    }
    // A hundredth of the field to each side, and distances said to 10 ft.
    expect(best.off).toBeLessThan(3 * 10);
    await stand(...best.at);
    await page.getByText('You are there').waitFor();
    await check('walk-gps-there');
    await tally(page, 12);
    await page.getByRole('link', { name: 'Done here' }).click();
    await expect.poll(metresToGo).toBeGreaterThan(0);
  });

  test('walked: corners by tap, kept through a reload, a worse fix refused', async () => {
    await page.goto(`${server.address}/#/`);
    await addField(page, 'Walked Field');
    await page.getByRole('link', { name: 'Add an outline' }).click();
    await page.getByRole('button', { name: 'Walk it' }).click();
    const corner = page.getByRole('button', { name: 'Corner here' });
    const corners = (n: number) =>
      page
        .getByTestId('corners')
        .getByText(new RegExp(`^${n}\\b`))
        .waitFor();
    for (const [i, [latitude, longitude]] of (
      [
        [SOUTH, WEST],
        [SOUTH, EAST],
        [NORTH, EAST],
      ] as const
    ).entries()) {
      // The page tells how good a position is: another error tells that the new one has come.
      await stand(latitude, longitude, 5 + 3 * i);
      await page
        .getByText(['Position good to 16 ft', 'Position good to 26 ft', 'Position good to 36 ft'][i]!)
        .waitFor();
      await corner.click();
      await corners(i + 1);
    }
    await page.reload();
    await page.getByRole('button', { name: 'Walk it' }).click();
    await corners(3);
    await browser.setGeolocation({ latitude: NORTH, longitude: WEST, accuracy: 60 });
    await page.getByText(/^Position only good to .+: wait$/).waitFor();
    await expect.poll(() => corner.isDisabled()).toBe(true);
    await stand(NORTH, WEST);
    await page.getByText('Position good').waitFor();
    // Under trees: the last position is told with its time and makes no corner; the next one is taken.
    await browser.setGeolocation(null);
    await page.getByText(/^No position now, last at \d\d:\d\d$/).waitFor();
    await expect.poll(() => corner.isDisabled()).toBe(true);
    await stand(NORTH, WEST);
    await page.getByText('Position good').waitFor();
    await corner.click();
    await corners(4);
    await check('outline-walk');
    await page.getByRole('button', { name: 'Close the outline' }).click();
    await page.getByRole('heading', { name: 'Outline' }).waitFor();
    await page.getByText('4 corners').waitFor();
    await expect.poll(() => page.locator('.big').textContent()).toBe('84 ac');
  });

  test('visits by season, class, verdict, field, date and words, with the network cut', async () => {
    await page.goto(`${server.address}/#/`);
    await page.getByText('Gate Field').waitFor();
    await page.context().setOffline(true);
    await page.getByLabel('Season').selectOption('2026');
    await page.getByRole('link', { name: 'All visits' }).click();
    await page.getByRole('heading', { name: 'Visits' }).waitFor();
    const found = async () => Number.parseInt((await page.getByTestId('found').textContent()) ?? '', 10);
    await expect.poll(found).toBeGreaterThanOrEqual(8);
    await page.getByText('Cost a replant').locator('visible=true').first().waitFor();
    await check('visits');
    // The server says the same of the same filter, verdicts of its own making.
    for (const verdict of ['keep', 'wait', 'cost replant', 'too few spots']) {
      await page.getByLabel('Verdict').selectOption(verdict);
      const told = (await server.get(`/api/things/visit?verdict=${encodeURIComponent(verdict)}&to=${daysAgo(1)}`)) as {
        total: number;
      };
      const mine = verdict === 'too few spots' ? 1 : 0;
      await expect.poll(found).toBe(told.total + mine);
    }
    await page.getByRole('button', { name: 'Show all' }).click();
    await page.getByText('Class, field, dates').click();
    await page.getByLabel('Market class').selectOption('great northern');
    await page.getByRole('link', { name: /Knoll Quarter/ }).waitFor();
    await page.getByLabel('To', { exact: true }).fill('2026-06-01');
    await expect.poll(found).toBe(0);
    await check('visits-filtered');
    await page.getByRole('button', { name: 'Show all' }).click();
    await page.getByLabel('Search').fill('gate field');
    await expect.poll(found).toBe(1);
    await page.getByRole('link', { name: /Gate Field/ }).click();
    await page.getByTestId('way').waitFor();
  });

  test('every page reads well on a phone and on a laptop', async () => {
    const list = (await server.get('/api/things/visit?search=knoll')) as { items: { id: string; field: string }[] };
    const { id = '', field = '' } = list.items[0] ?? {};
    const places = [
      ['fields', '', 'h1:text-is("Fields")'],
      ['field', `field/${field}`, 'h1:text-is("Knoll Quarter"):not(:has(a))'],
      ['walk', `visit/${id}`, 'h1:has(a:text-is("Knoll Quarter"))'],
      ['verdict', `visit/${id}/verdict`, 'h1[data-testid=verdict]'],
      ['notes', `visit/${id}/notes`, 'h1:text-is("Notes")'],
      ['signs', `visit/${id}/notes/signs`, 'h1:text-is("Signs")'],
      ['zones', `visit/${id}/notes/zones`, 'h1:text-is("Zones")'],
      ['visits', 'visits', 'h1:text-is("Visits")'],
      ['settings', 'settings', 'h1:text-is("Settings")'],
    ] as const;
    for (const [device, size] of [
      ['phone', { width: 390, height: 844 }],
      ['laptop', { width: 1366, height: 768 }],
    ] as const) {
      await page.setViewportSize(size);
      for (const [name, path, title] of places) {
        await page.goto(`${server.address}/#/${path}`);
        await page.locator(title).waitFor();
        await page.waitForFunction(() => [...document.images].every((one) => one.complete));
        await check(`${device}-${name}`);
      }
    }
  });

  test('nothing serious by axe-core, no small target, no error', () => {
    expect(faults).toEqual([]);
    expect(errors).toEqual([]);
    expect(server.reported).toEqual([]);
  });
});
