import { rmSync } from 'node:fs';
import type { BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { newProfile, openBrowser, shot, startServer } from './support.ts';
import { addField, SAMPLE, sayName, startVisit, tally } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const profile = newProfile();
let server: Awaited<ReturnType<typeof startServer>>;
let browser: BrowserContext;

beforeAll(async () => {
  server = await startServer({ demo: false });
  browser = await openBrowser(profile);
});
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(profile, { recursive: true, force: true });
});

test('a full device says so in plain words, keeps what it has, and the photo once there is room', async () => {
  const page = browser.pages()[0] ?? (await browser.newPage());
  const session = await browser.newCDPSession(page);
  // The browser's own quota, so that its own error is met, whatever it looks like: room for entries, not for a photo.
  await session.send('Storage.overrideQuotaForOrigin', { origin: server.address, quotaSize: 400_000 });
  await page.goto(server.address);
  await sayName(page);
  await addField(page, 'Full Phone');
  await startVisit(page);
  await tally(page, 6);
  await page.locator('[data-testid=tally][data-kept=true]').waitFor();
  await page.getByRole('link', { name: 'Done here' }).click();
  await page.getByLabel('From gallery').setInputFiles(SAMPLE);
  await page.getByText('This device is full').waitFor();
  await page.getByText('is not kept yet').waitFor();
  await shot(page, 'full');
  await page.getByText('6 plants, by hand').waitFor();
  await session.send('Storage.overrideQuotaForOrigin', { origin: server.address });
  // The browser remembers for a while how much room there was.
  // A quick count may be over before anybody looks for it being made.
  const kept = page.getByText('Counting.').or(page.getByTestId('photo-count')).first();
  await expect
    .poll(
      async () => {
        await page
          .getByRole('button', { name: 'Try again' })
          .click({ timeout: 500 })
          .catch(() => undefined);
        return kept.isVisible();
      },
      { timeout: 60_000, interval: 1000 },
    )
    .toBe(true);
  await page.getByText('This device is full').waitFor({ state: 'detached' });
  await page.reload();
  await page.getByTestId('photo-count').waitFor({ timeout: 120_000 });
});
