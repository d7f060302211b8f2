import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { breakingLine, newProfile, openBrowser, shot, startServer } from './support.ts';
import { addField, allSent, sayName, startVisit, tally } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

interface Whole {
  readonly document: {
    readonly spots: readonly { readonly counts: readonly { readonly plants: readonly number[] }[] }[];
  };
  readonly conflicts: readonly {
    readonly path: string;
    readonly sides: readonly { author: string; value: unknown }[];
  }[];
}

describe('two phones that count the same spot, each without the other', () => {
  const profiles = [newProfile(), newProfile()];
  let server: Awaited<ReturnType<typeof startServer>>;
  let lines: Awaited<ReturnType<typeof breakingLine>>[];
  let browsers: BrowserContext[];
  let pages: Page[];

  beforeAll(async () => {
    server = await startServer({ demo: false });
    lines = [await breakingLine(server.address), await breakingLine(server.address)];
    browsers = [await openBrowser(profiles[0]!), await openBrowser(profiles[1]!)];
    pages = await Promise.all(browsers.map(async (one) => one.pages()[0] ?? (await one.newPage())));
  });
  afterAll(async () => {
    for (const one of browsers) await one.close();
    for (const line of lines) await line.close();
    await server.close();
    for (const profile of profiles) rmSync(profile, { recursive: true, force: true });
  });

  const online = async (page: Page) => {
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await allSent(page);
  };
  const openTally = async (page: Page) => {
    await page.getByText('Spot 1', { exact: true }).click();
    await page.getByText('Go on counting').click();
    await page.getByRole('button', { name: '+ plant' }).waitFor();
  };

  test('both go on: both numbers are there, side by side, and one tap settles it everywhere', async () => {
    const [ada, ben] = pages as [Page, Page];
    await ada.goto(lines[0]!.address);
    await sayName(ada, 'Ada Lind');
    await addField(ada, 'Two Hands');
    await startVisit(ada);
    await tally(ada, 10);
    await ada.getByRole('link', { name: 'Done here' }).click();
    await online(ada);

    await ben.goto(lines[1]!.address);
    await sayName(ben, 'Ben Okoro');
    await ben.getByText('Two Hands').click();
    await ben.getByRole('link', { name: /1 spot/ }).click();
    await ben.getByText('10 plants, by hand').waitFor();

    // What is opened first without a network comes from what the page keeps, once it keeps something.
    for (const page of [ada, ben]) await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    for (const line of lines) line.cut();
    await openTally(ada);
    await ada.getByRole('button', { name: '+ plant' }).click();
    await ada.getByRole('link', { name: 'Done here' }).click();
    await openTally(ben);
    for (let i = 0; i < 3; i++) await ben.getByRole('button', { name: '+ plant' }).click();
    await ben.getByRole('link', { name: 'Done here' }).click();
    // Each also does something the other does not touch.
    await ben.getByRole('link', { name: 'Notes', exact: true }).click();
    await ben.getByRole('link', { name: 'Dug up' }).click();
    await ben.getByRole('button', { name: 'Add a dig' }).click();
    await ben.getByRole('button', { name: 'Rotted: one more' }).click();
    await ben.getByRole('link', { name: 'Back to the walk' }).click();

    for (const line of lines) line.mend([]);
    await online(ada);
    await online(ben);
    await online(ada);

    const list = (await server.get('/api/things/visit')) as { items: { id: string }[] };
    const path = `/api/things/visit/${list.items[0]?.id}`;
    const whole = (await server.get(path)) as Whole;
    expect(whole.conflicts).toHaveLength(1);
    expect(whole.conflicts[0]?.sides.map((side) => [side.author, side.value]).sort()).toEqual([
      ['Ada Lind', [11]],
      ['Ben Okoro', [13]],
    ]);
    const { records } = (await server.get(`${path}/records`)) as { records: { author: string }[] };
    expect(new Set(records.map((record) => record.author))).toEqual(new Set(['Ada Lind', 'Ben Okoro']));
    expect(JSON.stringify(whole.document)).toContain('"rotted":1');

    for (const page of [ada, ben]) {
      const conflict = page.getByLabel('Entered differently');
      await conflict.getByRole('button', { name: /^11/ }).waitFor();
      await conflict.getByRole('button', { name: /^13/ }).waitFor();
    }
    await shot(ben, 'conflict');
    await ben.getByRole('button', { name: /^13/ }).click();
    await ben.getByLabel('Entered differently').waitFor({ state: 'detached' });
    await online(ben);
    const settled = (await server.get(path)) as Whole;
    expect(settled.conflicts).toEqual([]);
    expect(settled.document.spots[0]?.counts[0]?.plants).toEqual([13]);
    await online(ada);
    await ada.getByLabel('Entered differently').waitFor({ state: 'detached' });
    await ada.getByText('13 plants, by hand').waitFor();
    expect(((await server.get(`${path}/records`)) as { records: unknown[] }).records.length).toBeGreaterThan(
      records.length,
    );
  });
});
