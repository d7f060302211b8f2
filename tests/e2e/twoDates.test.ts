import { rmSync } from 'node:fs';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { faultsOf } from './checkPage.ts';
import { newProfile, openBrowser, startServer } from './support.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const SIZES = { phone: { width: 390, height: 844 }, laptop: { width: 1366, height: 768 } } as const;

let server: Awaited<ReturnType<typeof startServer>>;
beforeAll(async () => {
  server = await startServer({ demo: true });
});
afterAll(() => server.close());

test.each(['phone', 'laptop'] as const)('the same spots on two dates, side by side on a %s', async (size) => {
  const profile = newProfile();
  const browser = await openBrowser(profile, { viewport: SIZES[size] });
  try {
    const page = browser.pages()[0] ?? (await browser.newPage());
    await page.goto(server.address);
    await page.getByText('Mill Bend').first().click();
    await page.getByRole('heading', { name: 'Two dates' }).waitFor();
    const chosen = (label: string) => page.getByLabel(label).locator('option:checked').textContent();
    await expect.poll(() => chosen('Earlier')).toMatch(/12.*2026/);
    await expect.poll(() => chosen('Later')).toMatch(/18.*2026/);
    const pictures = page.locator('section:has(h2:text-is("Two dates")) img');
    await expect.poll(() => pictures.count()).toBe(4);
    await expect
      .poll(() => pictures.evaluateAll((all) => all.map((one) => (one as HTMLImageElement).naturalWidth > 0)))
      .toEqual([true, true, true, true]);
    // Side by side: earlier to the left of later, at one height.
    const boxes = await Promise.all((await pictures.all()).map((one) => one.boundingBox()));
    for (const [left, right] of [boxes.slice(0, 2), boxes.slice(2)]) {
      expect(left!.x + left!.width).toBeLessThanOrEqual(right!.x);
      expect(Math.abs(left!.y - right!.y)).toBeLessThan(2);
    }
    await pictures.first().scrollIntoViewIfNeeded();
    expect(await faultsOf(page, `two-dates-${size}`)).toEqual([]);
    await page.locator('.list .row-link').first().click();
    await page.getByText('Spot 1', { exact: true }).click();
    await page.getByTestId('photo-count').waitFor();
    expect(await faultsOf(page, `demo-spot-${size}`)).toEqual([]);
  } finally {
    await browser.close();
    rmSync(profile, { recursive: true, force: true });
  }
});
