import { readFileSync, rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { faultsOf } from './checkPage.ts';
import { newProfile, openBrowser, shot, startServer } from './support.ts';
import { addField, addPhoto, allSent, SAMPLE, sayName, startVisit } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

interface Truth {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly reference: { readonly readings: readonly { xPx: number; yPx: number; readingM: number }[] };
}

interface Counted {
  readonly id: string;
  readonly result: {
    readonly reference: { readonly kind: string; readonly readings: readonly { xPx: number; readingM: number }[] };
    readonly stretch: { readonly lengthM: number } | null;
    readonly count: { readonly value: number };
  };
}

describe('a photo in which no reference was found', () => {
  const truth = JSON.parse(readFileSync(SAMPLE.replace('.jpg', '.truth.json'), 'utf8')) as Truth;
  const byReading = [...truth.reference.readings].sort((a, b) => a.readingM - b.readingM);
  const [first, last] = [byReading[0]!, byReading.at(-1)!];
  const lengthM = last.readingM - first.readingM;
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    browser = await openBrowser(profile, { viewport: { width: 390, height: 844 }, reducedMotion: 'reduce' });
    page = browser.pages()[0] ?? (await browser.newPage());
    await page.goto(server.address);
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  test('lists its plants, and asks for a length', async () => {
    await sayName(page);
    await addField(page, 'No Tape');
    await startVisit(page);
    await page.getByText('Photos: Tape').click();
    // A length of one's own is said as a length, and is remembered.
    await page.getByLabel('Beside the row lies').selectOption({ label: 'Rod of another length' });
    await page.getByLabel('Length of the rod').fill('7');
    await page.getByText('Photos: Rod of 7 ft').waitFor();
    await page.getByLabel('Length of the rod').fill('long');
    await page.getByText('Wanted a length, such as 2 ft').waitFor();
    await page.getByLabel('Beside the row lies').selectOption({ label: 'Frame of another size' });
    await page.getByLabel('Inside, across').fill('18 in');
    await page.getByText('Photos: Frame 2 ft x 18 in').waitFor();
    expect(await faultsOf(page, 'frame-size')).toEqual([]);
    await page.getByLabel('Beside the row lies').selectOption('cards');
    await addPhoto(page, SAMPLE);
    await page.getByText('No scale: the plants found').waitFor();
    expect(await faultsOf(page, 'no-length')).toEqual([]);
    await page.getByRole('button', { name: 'Correct', exact: true }).click();
    await page.locator('.cp-view').first().waitFor();
    expect(await faultsOf(page, 'no-length-correcting')).toEqual([]);
    // Two words on marks, said before any length is known. What a network says of the first is not asked here.
    await page.keyboard.press('k');
    await page.getByRole('button', { name: /^Undo: (plant|keep)/ }).waitFor();
    await page.keyboard.press('x');
    await page.getByRole('button', { name: /Undo: not a plant/ }).waitFor();
    await page.getByRole('button', { name: 'Set a length', exact: true }).click();
    await page.getByText('Tap the first place').waitFor();
    await page.locator('.cp-canvas').waitFor();
    expect(await faultsOf(page, 'length-start')).toEqual([]);
  });

  test('one end by finger, the other by keys, the length between: all is counted anew', async () => {
    const box = (await page.locator('.cp-canvas').boundingBox())!;
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    // The whole photo lies across the screen.
    const scale = box.width / truth.widthPx;
    const onScreen = (p: { xPx: number; yPx: number }) => ({
      x: Math.round(middle.x + (p.xPx - truth.widthPx / 2) * scale),
      y: Math.round(middle.y + (p.yPx - truth.heightPx / 2) * scale),
    });
    const onPhoto = ({ x, y }: { x: number; y: number }) => ({
      xPx: (x - middle.x) / scale + truth.widthPx / 2,
      yPx: (y - middle.y) / scale + truth.heightPx / 2,
    });
    const nudge = async (from: { xPx: number; yPx: number }, to: { xPx: number; yPx: number }) => {
      for (const [by, names] of [
        [to.xPx - from.xPx, ['ArrowLeft', 'ArrowRight']],
        [to.yPx - from.yPx, ['ArrowUp', 'ArrowDown']],
      ] as const) {
        const name = names[by > 0 ? 1 : 0];
        const steps = Math.round(Math.abs(by));
        for (let i = 0; i < Math.floor(steps / 10); i++) await page.keyboard.press(`Shift+${name}`);
        for (let i = 0; i < steps % 10; i++) await page.keyboard.press(name);
      }
    };
    const tapped = onScreen(first);
    await page.touchscreen.tap(tapped.x, tapped.y);
    await page.getByText('Drag point 1').waitFor();
    await nudge(onPhoto(tapped), first);
    await shot(page, 'length-first');
    // The visit is read anew, as after every sending and every change on another page: the view stays where it is.
    const view = () => page.locator('.cp-canvas').evaluate((one: HTMLCanvasElement) => one.toDataURL());
    // Keys are drawn with the next frames: from here on nothing more is to change.
    let near = '';
    await expect
      .poll(async () => {
        const before = near;
        near = await view();
        return near === before;
      })
      .toBe(true);
    await page.evaluate(() => new BroadcastChannel('rowledger').postMessage('changed'));
    await page.waitForTimeout(1000);
    expect((await view()) === near).toBe(true);

    // A point put at the middle of the whole photo, then carried to the far end by arrows alone.
    await page.keyboard.press('Escape');
    await page.keyboard.press('0');
    await page.keyboard.press('Enter');
    await page.getByText('How far apart are they?').waitFor();
    await nudge({ xPx: truth.widthPx / 2, yPx: truth.heightPx / 2 }, last);
    await page.keyboard.press('0');
    const field = page.getByLabel('1 to 2');
    for (let i = 0; i < 12 && !(await field.evaluate((one) => one === one.ownerDocument.activeElement)); i++) {
      await page.keyboard.press('Tab');
    }
    await page.keyboard.type(`${lengthM.toFixed(4)} m`);
    expect(await faultsOf(page, 'length-both')).toEqual([]);
    const count = page.getByRole('button', { name: 'Count with this length' });
    for (let i = 0; i < 12 && !(await count.evaluate((one) => one === one.ownerDocument.activeElement)); i++) {
      await page.keyboard.press('Tab');
    }
    await page.keyboard.press('Enter');
    await page.getByText('counted again with a length set').waitFor({ timeout: 120_000 });
    await page.getByTestId('photo-count').waitFor();
    await page.getByText('carried over from the count before').waitFor();
    await page.getByText('2 corrections of it').click();
    await page.getByText(/^(plant|keep), Ina Voss$/).waitFor();
    expect(await faultsOf(page, 'length-counted')).toEqual([]);

    await allSent(page);
    const { items } = (await server.get('/api/things/visit')) as { items: readonly { id: string }[] };
    const { document: visit } = (await server.get(`/api/things/visit/${items[0]?.id}`)) as {
      document: {
        spots: readonly { counts: readonly Counted[] }[];
        corrections: readonly { countId: string; by: string; why?: string; change: { kind: string } }[];
      };
    };
    const [before, after] = visit.spots[0]!.counts.map(({ result }) => result);
    const said = (place: number) =>
      visit.corrections.filter(({ countId }) => countId === visit.spots[0]!.counts[place]?.id);
    const [word, ...others] = said(0).map(({ change }) => change.kind);
    expect(['name plant', 'confirm plant']).toContain(word);
    expect(others).toEqual(['remove plant', 'leave out']);
    // A plant that was named stands in the new count whatever its marks; one taken off is said again only of a mark.
    const carried = said(1);
    expect(['confirm plant', 'name plant', 'add plant']).toContain(carried[0]?.change.kind);
    expect(carried.slice(1).map(({ change }) => change.kind)).toEqual(carried.length === 1 ? [] : ['remove plant']);
    for (const { by, why } of carried) expect([by, why]).toEqual(['ina-voss', 'carried over from the count before']);
    expect(before?.stretch).toBeNull();
    expect(after?.reference.kind).toBe('marks');
    expect(after?.stretch?.lengthM).toBeCloseTo(lengthM, 3);
    const marks = [...after!.reference.readings].sort((a, b) => a.readingM - b.readingM);
    // Half a pixel is rounded away at each end.
    expect(Math.abs(marks[0]!.xPx - first.xPx)).toBeLessThan(2);
    expect(Math.abs(marks.at(-1)!.xPx - last.xPx)).toBeLessThan(2);
    expect(after!.count.value).toBeGreaterThan(0);
  });

  test('the count before counts after all, and the one after it no more: a photo counts once', async () => {
    await page.getByRole('button', { name: 'Count it after all' }).click();
    await page.getByText('another count of the same photo stands').waitFor();
    await page.getByText('No scale: the plants found').waitFor();
    await expect.poll(() => page.getByTestId('photo-count').count()).toBe(1);
    await page.getByRole('button', { name: 'Count it after all' }).click();
    await page.getByText('No scale: the plants found').waitFor({ state: 'detached' });
    await expect.poll(() => page.getByTestId('photo-count').count()).toBe(1);
    expect(await faultsOf(page, 'after-all')).toEqual([]);
  });
});
