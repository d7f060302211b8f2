import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { newProfile, openBrowser, shot, startServer, watchErrors } from './support.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const profile = newProfile();
let server: Awaited<ReturnType<typeof startServer>>;
let browser: BrowserContext;
let page: Page;

beforeAll(async () => {
  server = await startServer({ demo: true });
  browser = await openBrowser(profile, { viewport: { width: 1366, height: 768 } });
  page = browser.pages()[0] ?? (await browser.newPage());
});
afterAll(async () => {
  await browser.close();
  await server.close();
  rmSync(profile, { recursive: true, force: true });
});

test('the interface description opens from this server alone, and a request can be tried from it', async () => {
  const errors = watchErrors(page);
  const elsewhere: string[] = [];
  page.on('request', (request) => {
    const url = request.url();
    if (!url.startsWith(server.address) && !/^(data|blob):/.test(url)) elsewhere.push(url);
  });
  await page.goto(`${server.address}/docs`);
  await page.getByRole('heading', { name: /Rowledger/ }).waitFor();
  const described = (await server.get('/openapi.json')) as { paths: Record<string, object> };
  const operations = Object.values(described.paths).flatMap((path) => Object.keys(path));
  await expect.poll(() => page.locator('.opblock').count()).toBe(operations.length);
  await shot(page, 'docs', false);

  const list = page.locator('.opblock', { hasText: 'Search and filter, newest first' });
  await list.locator('.opblock-summary-control').click();
  await list.getByRole('button', { name: 'Try it out' }).click();
  await list.locator('select').first().selectOption('visit');
  await list.getByPlaceholder('verdict').fill('wait');
  await list.getByRole('button', { name: 'Execute' }).click();
  const answer = list.locator('.live-responses-table .response > .response-col_status').first();
  await answer.getByText('200').waitFor();
  await list.locator('.live-responses-table .highlight-code').getByText('Lower Bench').first().waitFor();
  expect(errors).toEqual([]);
  expect(elsewhere).toEqual([]);
  expect(server.reported).toEqual([]);
});
