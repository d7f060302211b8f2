import { mkdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { Correction } from '../../src/core/corrections/correction.ts';
import type { CorrectedResult } from '../../src/core/corrections/replay.ts';
import { type CorrectPage, openCorrectPage } from './correctPage.ts';
import { correctSample } from './correctSample.ts';

// A browser on two busy cores takes its time; the times told here are modelled, not measured.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

const ARTIFACTS = join(import.meta.dirname, '../../artifacts');
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const SIZES = { phone: { width: 360, height: 740 }, laptop: { width: 1280, height: 720 } } as const;
const sample = correctSample();
/** A floor that lies within the machine's interval: 25 plants on ten feet of 30 in rows. */
const FLOOR_PER_M2 = 25 / (3.048 * 0.762);

let site: CorrectPage;
beforeAll(async () => {
  mkdirSync(ARTIFACTS, { recursive: true });
  site = await openCorrectPage(sample, FLOOR_PER_M2);
}, 120_000);
afterAll(() => site?.close());

async function opened(size: keyof typeof SIZES): Promise<Page> {
  const page = await site.browser.newPage({
    viewport: SIZES[size],
    hasTouch: size === 'phone',
    reducedMotion: 'reduce',
  });
  await page.goto(site.address);
  await page.locator('.cp-view').nth(1).waitFor();
  return page;
}

const shot = (page: Page, name: string) => page.screenshot({ path: join(ARTIFACTS, `correct-${name}.png`) });
const corrected = (page: Page): Promise<CorrectedResult> =>
  page.evaluate(() => (globalThis as unknown as { kept: { corrected: () => CorrectedResult } }).kept.corrected());
const records = (page: Page): Promise<readonly Correction[]> =>
  page.evaluate(() => (globalThis as unknown as { kept: { records: readonly Correction[] } }).kept.records);
/** What is said of the mark in hand, once it is what is expected. */
const inHand = (page: Page) => expect.poll(() => page.locator('.cp-hand').textContent());
/** Until what was answered is drawn, in both views. */
const drawn = (page: Page) =>
  page.evaluate(
    () => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(resolve)))),
  );

/** Time of a practised but not fast typist, by the keystroke-level model (Card, Moran, Newell 1980): K and M in s. */
const KEY_S = 0.28;
const THINK_S = 1.35;

async function seriousFaults(page: Page): Promise<string[]> {
  await page.evaluate(AXE);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run: () => Promise<{ violations: { id: string; impact: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run();
    return violations
      .filter(({ impact }) => impact === 'serious' || impact === 'critical')
      .map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' | ')}`);
  });
}

/** Moves fingers evenly from places to places, as a touch screen reports it. */
async function fingersOf(page: Page) {
  const screen = await page.context().newCDPSession(page);
  const points = (places: readonly (readonly [number, number])[]) => places.map(([x, y], id) => ({ x, y, id }));
  return async (from: readonly (readonly [number, number])[], to: readonly (readonly [number, number])[]) => {
    await screen.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: points(from) });
    for (const share of [0.25, 0.5, 0.75, 1]) {
      const between = from.map(
        ([x, y], i) => [x + share * (to[i]![0] - x), y + share * (to[i]![1] - y)] as [number, number],
      );
      await screen.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: points(between) });
    }
    await screen.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
  };
}

describe('correcting a photo', () => {
  it('five errors by keyboard alone', async () => {
    const page = await opened('laptop');
    await shot(page, 'laptop-start');
    let keys = 0;
    let thoughts = 0;
    const press = async (...names: string[]) => {
      for (const name of names) {
        await page.keyboard.press(name);
        keys++;
      }
      thoughts++;
    };
    // The one that may be two is asked first, then the weed, the stone and the mark that is off: least certain first.
    await inHand(page).toMatch(/perhaps two plants \(40 %\)/);
    await press('t');
    await inHand(page).toMatch(/machine: 50 % sure/);
    await press('w');
    await inHand(page).toMatch(/machine: 45 % sure/);
    await press('x');
    await inHand(page).toMatch(/machine: 70 % sure/);
    await press(...Array.from({ length: 6 }, () => 'ArrowLeft'));
    // The plant that was missed: the longest bare run is proposed.
    await press('a');
    await shot(page, 'laptop-put');
    await press('Enter');

    await expect.poll(async () => (await records(page)).length).toBe(5);
    const now = await corrected(page);
    const { truth } = sample;
    expect(now.count.value).toBe(truth.count.value);
    const [mine, right] = [now, truth].map((r) => r.plants.filter((p) => p.kind === 'plant').map((p) => p.alongM!));
    mine!.forEach((alongM, i) => {
      // Halves of a split start 2 cm apart, a proposed plant in the middle of its gap: within 5 cm, to be moved if it matters.
      expect(Math.abs(alongM - right![i]!)).toBeLessThan(0.05);
    });
    const moved = now.plants.find((p) => p.id === 'shifted')!;
    expect(moved.alongM! - sample.result.plants.find((p) => p.id === 'shifted')!.alongM!).toBeCloseTo(-0.06, 6);
    expect(now.gaps.length).toBe(truth.gaps.length);
    expect(now.count.method).toMatch(/checked by Ann Field$/);
    expect(now.count.high - now.count.low).toBeLessThan(sample.result.count.high - sample.result.count.low);
    // Six arrow presses are one record.
    expect((await records(page)).map((r) => r.change.kind)).toEqual([
      'split plant',
      'name plant',
      'remove plant',
      'move plant',
      'add plant',
    ]);
    await shot(page, 'laptop-corrected');
    const seconds = keys * KEY_S + thoughts * THINK_S;
    console.log(
      `five errors: ${keys} keys, ${thoughts} decisions, ${seconds.toFixed(1)} s by the keystroke-level model`,
    );
    expect(seconds).toBeLessThan(30);

    await page.keyboard.press('0');
    await shot(page, 'laptop-whole');
    for (let i = 0; i < 5; i++) await page.keyboard.press('u');
    await expect.poll(async () => (await records(page)).length).toBe(10);
    expect((await corrected(page)).count).toEqual(sample.result.count);
    for (let i = 0; i < 5; i++) await page.keyboard.press('r');
    await expect.poll(async () => (await records(page)).length).toBe(15);
    expect((await corrected(page)).count).toEqual(now.count);
    await page.close();
  });

  it('numbers, names of steps and the spoken line follow every change', async () => {
    const page = await opened('laptop');
    const top = () => page.locator('.cp-top').textContent();
    const before = await top();
    await page.keyboard.press('x');
    await expect.poll(top).not.toBe(before);
    const count = () => page.locator('.cp-count').textContent();
    await expect.poll(count).toMatch(/^26 \(\d+–\d+\) plants$/);
    await expect
      .poll(() => page.getByRole('status').textContent())
      .toMatch(/not a plant\. Next: Plant \d+.* 26 plants, \d+ to \d+\.$/);
    await page.getByRole('button', { name: /^Undo: not a plant at \d/ }).click();
    await expect.poll(count).toMatch(/^27 /);
    await page.getByRole('button', { name: /^Redo: not a plant at \d/ }).waitFor();
    await page.close();
  });

  it('the Tab key walks along the marks and the readings, and leaves at the end', async () => {
    const page = await opened('laptop');
    const said: string[] = [];
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press('Tab');
      const name = await page.evaluate(() => document.activeElement?.getAttribute('aria-label') ?? '');
      if (/^(Plant|Reading)/.test(name)) said.push(name);
      else if (said.length > 0) break;
    }
    expect(said.length).toBe(sample.result.plants.length + 5);
    expect(said[0]).toMatch(/^Plant 1, /);
    expect(said.at(-1)).toMatch(/^Reading 10 ft/);
    await page.close();
  });

  it('a reading dragged elsewhere works everything out again, and shows that a person placed it', async () => {
    const page = await opened('laptop');
    await page.keyboard.press('Escape');
    const readings = page.getByRole('button', { name: /^Reading/ });
    await readings.last().focus();
    await page.keyboard.press('v');
    for (let i = 0; i < 20; i++) await page.keyboard.press('Shift+ArrowLeft');
    await page.keyboard.press('Enter');
    await page.waitForFunction(
      () => (globalThis as unknown as { kept: { records: unknown[] } }).kept.records.length === 1,
    );
    const now = await corrected(page);
    const last = sample.result.plants.at(-1)!;
    // 200 photo pixels of about 3100 over ten feet.
    expect(now.plants.find((p) => p.id === last.id)!.alongM! - last.alongM!).toBeGreaterThan(0.12);
    expect(now.reference.cues[0]).toBe('1 reading placed by Ann Field');
    await drawn(page);
    await shot(page, 'laptop-reading');
    await page.close();
  });

  it('by finger on a phone: tap adds, drag moves the mark in hand, two fingers come nearer', async () => {
    const page = await opened('phone');
    await shot(page, 'phone-start');
    const box = (await page.locator('.cp-view').first().boundingBox())!;
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const fingers = await fingersOf(page);
    const added = async () => (await corrected(page)).plants.filter((p) => p.checked?.did === 'added').at(-1)!;
    const grown = (length: number) => expect.poll(async () => (await records(page)).length).toBe(length);
    const away = async (x: number, y: number) => {
      const before = (await records(page)).length;
      await page.touchscreen.tap(middle.x + x, middle.y + y);
      await grown(before + 1);
      const { alongM, acrossM } = await added();
      await page.keyboard.press('u');
      await grown(before + 2);
      return [alongM!, acrossM!] as const;
    };
    const [left, right] = [await away(-100, 60), await away(100, 60)];
    expect(left[1]).toBeLessThan(0);
    expect(right[1]).toBeCloseTo(left[1], 9);

    // The mark in hand is in the middle; it follows the finger by as much soil as the finger covers.
    const held = sample.result.plants.find((p) => p.id === 'double')!;
    const until = (await records(page)).length;
    await page.touchscreen.tap(middle.x, middle.y);
    await fingers([[middle.x, middle.y]], [[middle.x + 40, middle.y - 20]]);
    await grown(until + 1);
    const moved = (await corrected(page)).plants.find((p) => p.id === 'double')!;
    expect(moved.checked!.did).toBe('moved');
    expect(moved.alongM! - held.alongM!).toBeCloseTo(((right[0] - left[0]) * 40) / 200, 2);
    await shot(page, 'phone-moved');
    await page.keyboard.press('u');
    await grown(until + 2);

    // A drag over bare soil pans: no record is made.
    const before = (await records(page)).length;
    await fingers([[middle.x - 60, middle.y + 60]], [[middle.x - 20, middle.y + 60]]);
    await drawn(page);
    expect((await records(page)).length).toBe(before);
    const panned = await away(100, 60);
    expect(panned[0]).toBeCloseTo(right[0] - ((right[0] - left[0]) * 40) / 200, 2);

    const apart = (px: number): [number, number][] => [
      [middle.x - px, middle.y + 40],
      [middle.x + px, middle.y + 40],
    ];
    await fingers(apart(40), apart(80));
    const [nearLeft, nearRight] = [await away(-100, 60), await away(100, 60)];
    expect(nearRight[0] - nearLeft[0]).toBeCloseTo((right[0] - left[0]) / 2, 2);
    await page.close();
  });

  it('answers are large enough for a glove and none is below the fold of a small phone', async () => {
    const page = await opened('phone');
    for (const name of ['Keep', 'Not a plant', 'Weed', 'Two plants', 'Hurt', 'Next']) {
      const size = (await page.getByRole('button', { name, exact: true }).boundingBox())!;
      expect(Math.min(size.height, size.width), name).toBeGreaterThanOrEqual(56);
      expect(size.y + size.height).toBeLessThanOrEqual(740);
    }
    for (const tool of await page.locator('.cp-tool:visible, .cp-done').all()) {
      const size = (await tool.boundingBox())!;
      expect(Math.min(size.height, size.width)).toBeGreaterThanOrEqual(48);
      expect(size.x + size.width).toBeLessThanOrEqual(360);
    }
    // Numbers with their doubt, each label on one line, none over the edge.
    const numbers = await page.locator('.cp-numbers > div').all();
    expect(await page.locator('.cp-numbers').textContent()).toMatch(/plants\/ac[\d,]+ [\d,]+–[\d,]+.*Longest gap.*in/);
    const edge = (await page.locator('.cp-numbers').boundingBox())!;
    for (const number of numbers) {
      const size = (await number.boundingBox())!;
      const label = (await number.locator('dt').boundingBox())!;
      expect(size.x + size.width).toBeLessThanOrEqual(edge.x + edge.width);
      expect(label.height).toBeLessThan(24);
    }
    // What is left to look at and who looked, whole beside the button.
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    const checked = page.locator('.cp-checked');
    await expect.poll(() => checked.textContent()).toMatch(/^(\d+ left, )?\d+ unsure( left)? · checked by Ann Field$/);
    expect(await checked.evaluate((one) => one.scrollWidth - one.clientWidth)).toBe(0);
    await page.close();
  });

  it('the last answer says that it was the last', async () => {
    const page = await opened('phone');
    const left = async () => Number.parseInt((await page.locator('.cp-checked').textContent()) ?? '', 10) || 0;
    for (let before = await left(); before > 0; before--) {
      await page.keyboard.press('k');
      await expect.poll(left).toBe(before - 1);
    }
    await inHand(page).toMatch(/^All marks are looked at/);
    await expect.poll(() => page.locator('.cp-checked').textContent()).toBe('All looked at · checked by Ann Field');
    await page.getByRole('button', { name: 'Next', exact: true, disabled: true }).waitFor();
    await page.close();
  });

  it.each(['phone', 'laptop'] as const)('whatever is answered, both views keep their place on a %s', async (size) => {
    const page = await opened(size);
    const views = await page.locator('.cp-view').all();
    const places = () => Promise.all(views.map((view) => view.boundingBox()));
    const before = await places();
    for (const key of ['t', 'k', 'x', 'w', 'h', 'o', 'u', 'r', 'a', 'Escape', 'n']) {
      await page.keyboard.press(key);
      await drawn(page);
      expect(await places(), key).toEqual(before);
    }
    await page.close();
  });

  it.each(['phone', 'laptop'] as const)('axe finds nothing serious on a %s', async (size) => {
    const page = await opened(size);
    for (const key of ['t', 'k', 'x', 'w', 'h', 'a']) await page.keyboard.press(key);
    expect(await seriousFaults(page)).toEqual([]);
    await shot(page, `${size}-busy`);
    await page.close();
  });
});
