import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { faultsOf } from './checkPage.ts';
import { newProfile, openBrowser, startServer } from './support.ts';
import { addField, allSent, SAMPLE, setUpPhotos, signIn, startVisit } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

interface Detections {
  readonly model: { readonly name: string };
  readonly result: {
    readonly detector: { readonly name: string };
    readonly warnings: readonly { readonly code: string; readonly message: string }[];
  };
}

describe('a first quick number while the network still looks', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;
  /** Lets the network's file through, or says that it cannot be had. */
  let settle: (there: boolean) => void;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    // Without the service worker the file is asked for anew, so that the test can hold it back.
    browser = await openBrowser(profile, { serviceWorkers: 'block' });
    page = await signIn(browser, server.address);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  const withhold = async () => {
    const answer = new Promise<boolean>((resolve) => {
      settle = resolve;
    });
    await browser.route('**/models/*.onnx', async (route) => ((await answer) ? route.continue() : route.abort()));
  };
  const photoOn = async (field: string) => {
    await page.goto(`${server.address}/#/`);
    await addField(page, field);
    await startVisit(page);
    await setUpPhotos(page);
    await page.getByLabel('From gallery').setInputFiles(SAMPLE);
    await page.getByTestId('first-number').waitFor({ timeout: 120_000 });
  };
  /** Everything that was ever recorded as the machine's detections, once all is sent. */
  const recorded = async (): Promise<readonly Detections[]> => {
    await allSent(page);
    const { items } = (await server.get('/api/things/detections')) as { items: readonly { id: string }[] };
    const whole = items.map(async ({ id }) => server.get(`/api/things/detections/${id}`));
    return (await Promise.all(whole)).map(({ document }: { document: Detections }) => document);
  };

  test('is shown as one, is kept nowhere, and gives way to the count that is', async () => {
    await withhold();
    await photoOn('Held Back');
    const first = page.getByTestId('first-number');
    expect(await first.textContent()).toMatch(/about \d+ plants.*First quick number.*Not kept.*Still looking closer/);
    expect(await page.getByTestId('photo-count').count()).toBe(0);
    expect(await recorded()).toEqual([]);
    expect(await faultsOf(page, 'first-number')).toEqual([]);
    settle(true);
    await page.getByTestId('photo-count').waitFor({ timeout: 120_000 });
    await first.waitFor({ state: 'detached' });
    const all = await recorded();
    expect(all.map((one) => [one.model.name, one.result.detector.name])).toEqual([['seedlings', 'seedlings']]);
    expect(await page.getByText('Counted by colour alone').count()).toBe(0);
  });

  test('without the network the colour count is kept, with the reason', async () => {
    await browser.unroute('**/models/*.onnx');
    await withhold();
    // A new thread: the one before has the network open.
    await page.reload();
    await photoOn('No Network File');
    settle(false);
    await page.getByTestId('photo-count').waitFor({ timeout: 120_000 });
    await page.locator('.notice', { hasText: 'not on this device yet' }).waitFor();
    const last = (await recorded()).find((one) => one.model.name === 'none');
    expect(last?.result.warnings.map((one) => one.code)).toContain('colour-alone');
    expect(await faultsOf(page, 'colour-alone')).toEqual([]);
  });
});
