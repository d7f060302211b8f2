import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { newProfile, openBrowser, startServer } from './support.ts';
import { addField, SAMPLE, setUpPhotos, signIn, startVisit } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

describe('a photo before the network and its engine are on the device', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    // Without the service worker the file is asked for anew, so that the test can keep it away.
    browser = await openBrowser(profile, { serviceWorkers: 'block' });
    page = await signIn(browser, server.address);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  const count = async (field: string): Promise<void> => {
    await page.goto(`${server.address}/#/`);
    await addField(page, field);
    await startVisit(page);
    await setUpPhotos(page);
    await page.getByLabel('From gallery').setInputFiles(SAMPLE);
    await page.getByTestId('photo-count').waitFor({ timeout: 120_000 });
  };

  /** Which detectors counted so far, as the server keeps it. */
  const detectors = async (): Promise<readonly string[]> => {
    const { items } = (await server.get('/api/things/detections')) as { items: readonly { id: string }[] };
    const whole = items.map(async ({ id }) => {
      const { document } = (await server.get(`/api/things/detections/${id}`)) as {
        document: { model: { name: string } };
      };
      return document.model.name;
    });
    return (await Promise.all(whole)).sort();
  };

  // A first number by colour is on the screen, and all is sent, before the network's count exists:
  // neither says that the count which is kept has come.
  const sentBy = (expected: readonly string[]) =>
    vi.waitFor(async () => expect(await detectors()).toEqual(expected), { timeout: 120_000, interval: 500 });

  test('is counted by colour alone, with the reason; once the engine can be had, by the network', async () => {
    await browser.route('**/engine/*.wasm', (route) => route.abort());
    await count('No Engine');
    await sentBy(['none']);
    await page.locator('.notice', { hasText: 'not on this device yet' }).waitFor();
    await browser.unroute('**/engine/*.wasm');
    // Without a reload: a start that failed is not remembered.
    await count('The Engine Came');
    await sentBy(['none', 'seedlings']);
  });
});
