import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { assessVisit } from '../../src/core/visit/assessVisit.ts';
import { readVisit } from '../../src/core/visit/readVisit.ts';
import { faultsOf } from './checkPage.ts';
import { newProfile, openBrowser, startServer } from './support.ts';
import { signIn } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

describe('the evening after many visits', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;

  beforeAll(async () => {
    server = await startServer({ demo: true });
    browser = await openBrowser(profile, { viewport: { width: 1366, height: 768 } });
    page = await signIn(browser, server.address);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  const found = async () => Number.parseInt((await page.getByTestId('found').textContent()) ?? '', 10);
  const open = () => page.goto(`${server.address}/#/visits`);

  test('every field says where its last visit stands: verdict, share of the target, plants', async () => {
    const { items } = (await server.get('/api/things/visit?search=knoll')) as { items: { id: string }[] };
    const { document } = (await server.get(`/api/things/visit/${items[0]!.id}`)) as { document: never };
    const read = readVisit(document);
    if (!read.ok) throw new Error(read.found);
    const { viable, target } = assessVisit(read.value, {});
    const share = Math.round((100 * viable!.perM2) / target.perM2);
    const line = page.getByRole('link', { name: /^Knoll Quarter/ });
    await line.getByText(new RegExp(`^${share}\\s% of target, [\\d,]+\\splants/ac, on Sandy knolls$`)).waitFor();
    await line.getByText('Cost a replant').waitFor();
    expect(await faultsOf(page, 'office-fields')).toEqual([]);
    await line.click();
    await page
      .getByRole('link', { name: /^12 June 2026/ })
      .getByText(new RegExp(`${share}\\s% of target`))
      .waitFor();
  });

  test('what nobody decided yet is one choice, and a decision takes its visit out of it', async () => {
    await open();
    await page.getByLabel('Decided').selectOption('none');
    await expect.poll(found).toBeGreaterThan(5);
    await page.getByText('still to judge').waitFor({ state: 'detached' });
    const before = await found();
    await page.getByRole('link', { name: /^Upper Terrace/ }).click();
    await page.getByRole('link', { name: /^Verdict/ }).click();
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    await page.getByRole('heading', { name: 'Decided' }).waitFor();
    await open();
    await page.getByLabel('Decided').selectOption('none');
    await expect.poll(found).toBe(before - 1);
    await page.getByLabel('Decided').selectOption('keep');
    await page
      .getByRole('link', { name: /^Upper Terrace/ })
      .getByText('decided: keep')
      .waitFor();
    expect(await faultsOf(page, 'office-visits')).toEqual([]);
  });
});
