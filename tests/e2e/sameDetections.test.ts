import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { parseCountArgs } from '../../src/cli/commands/parseCountArgs.ts';
import type { CountOptions } from '../../src/core/count/countOptions.ts';
import { countPhoto } from '../../src/core/count/countPhoto.ts';
import type { CountResult } from '../../src/core/count/countResult.ts';
import { chooseDetector } from '../../src/node/chooseDetector.ts';
import { readPhoto } from '../../src/node/readPhoto.ts';
import { builtUi } from '../../src/server/packageRoot.ts';
import { newProfile, openBrowser, startServer } from './support.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 240_000, hookTimeout: 180_000 });

const FOLDER = 'sample-images';
/** One for each kind of reference, and the one whose reference fit parts most; `SAMPLES=all` runs every sample image. */
const FEW = ['side-tape-inch', 'along-tape-cm', 'side-cards', 'down-frame', 'side-rod-banded', 'side-gap-60cm'];
const PHOTOS = readdirSync(FOLDER).filter(
  (name) => name.endsWith('.jpg') && (process.env.SAMPLES === 'all' || FEW.includes(name.replace('.jpg', ''))),
);
/**
 * Pixels are the same in both, bit for bit, but the last bits of Math.exp, pow, atan2 and others are each engine's own
 * (ECMAScript leaves them open; V8 11.3 against Chromium 156: they differ in up to a sixth of 20,000 random values). A
 * mark that nobody counts may then come or go at the edge of what is shown at all; one that is more likely a plant than
 * not may not.
 */
const LIKELY = 0.5;

/** The measuring thread as the page starts it, asked directly. */
async function countInBrowser(page: Page, worker: string, name: string, options: CountOptions, model: string) {
  const photo = readFileSync(join(FOLDER, name)).toString('base64');
  return page.evaluate(
    async ([worker, file, photo, options, model]) => {
      const bytes = Uint8Array.from(atob(photo), (c) => c.charCodeAt(0));
      const own = globalThis as typeof globalThis & { measuring?: Worker };
      own.measuring ??= new Worker(worker, { type: 'module' });
      const thread = own.measuring;
      return new Promise<unknown>((resolve, reject) => {
        type Reply = { stage: 'quick' | 'first' | 'last'; outcome: { ok: boolean; value?: { result: unknown } } };
        thread.onmessage = ({ data }: MessageEvent<Reply>) => {
          if (data.stage !== 'last') return;
          data.outcome.ok ? resolve(data.outcome.value?.result) : reject(new Error(JSON.stringify(data.outcome)));
        };
        thread.postMessage({ id: 1, photo: new Blob([bytes]), file, options, model, head: null });
      });
    },
    [worker, join(FOLDER, name), photo, options, model] as const,
  ) as Promise<CountResult>;
}

describe('the same photo counts the same in Chromium and in Node', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;
  let worker: string;

  beforeAll(async () => {
    server = await startServer({ demo: false });
    browser = await openBrowser(profile);
    page = browser.pages()[0] ?? (await browser.newPage());
    await page.goto(server.address);
    const built = readdirSync(join(builtUi() as string, 'assets')).find((name) => name.startsWith('analysis.worker'));
    worker = `/assets/${built}`;
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  test.each(PHOTOS)('%s', async (name) => {
    const truth = JSON.parse(readFileSync(join(FOLDER, name.replace('.jpg', '.truth.json')), 'utf8')) as {
      countArgs: string[];
    };
    const parsed = parseCountArgs([join(FOLDER, name), ...truth.countArgs]);
    if (!parsed.ok) throw new Error(JSON.stringify(parsed));
    const { options, model } = parsed.value;
    const photo = await readPhoto(join(FOLDER, name));
    const detector = await chooseDetector(model);
    if (!photo.ok || !detector.ok) throw new Error(JSON.stringify([photo.ok, detector.ok]));
    const [{ result: here }, there] = await Promise.all([
      countPhoto(photo.value, options, { ...detector.value, nowMs: () => performance.now() }),
      countInBrowser(page, worker, name, options, model),
    ]);

    const [plants, others] = [here, there].map((result) => result.plants.filter((mark) => mark.kind === 'plant'));
    const apart = plants!.map(({ xPx, yPx }, i) => {
      const other = others![i];
      return other === undefined ? Number.POSITIVE_INFINITY : Math.hypot(xPx - other.xPx, yPx - other.yPx);
    });
    const most = Math.max(0, ...apart);
    const idle = [here, there].map((result) => result.plants.filter((mark) => mark.kind !== 'plant'));
    console.log(
      `${name}: ${here.count.value} in Node, ${there.count.value} in Chromium, detector ${here.detector.name}, ` +
        `${plants!.length} and ${others!.length} plants at most ${most.toFixed(3)} px apart, ` +
        `${idle[0]!.length} and ${idle[1]!.length} other marks; ` +
        `Node ${Math.round(here.timingsMs.total)} ms, Chromium ${Math.round(there.timingsMs.total)} ms`,
    );
    expect(there.photo).toEqual(here.photo);
    expect(there.detector).toEqual(here.detector);
    expect(there.count.value).toBe(here.count.value);
    expect(others!.map((mark) => mark.inStretch)).toEqual(plants!.map((mark) => mark.inStretch));
    for (const mark of idle.flat()) expect(mark.confidence).toBeLessThan(LIKELY);
    expect(most).toBeLessThanOrEqual(1);
  });
});
