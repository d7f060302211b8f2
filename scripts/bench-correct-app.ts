/**
 * Prints how long one answer takes on the correcting page of the whole app in headless Chromium, 200 plants on one photo:
 * what `bench-correct-view.ts` does not see, the page around the view, reading the visit and keeping each step on the
 * disk. From the key to the page rendered, with the frame's own work, and to the frame drawn; and the CPU time of the
 * page's thread until the next answer, the look whether the count decides the verdict and the sending included. Software
 * drawing, no graphics processor. After a build: `npx tsx scripts/bench-correct-app.ts`.
 */
import { randomUUID } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';
import type { CountResult } from '../src/core/count/countResult.ts';
import { applyHomography, invertHomography } from '../src/core/geometry/homography.ts';
import type { PhotoResult } from '../src/core/visit/countSchema.ts';
import { createApp } from '../src/server/app.ts';
import { COUNTS_FILE, demoPhotoRecords } from '../src/server/demo/demoPhotos.ts';
import { loadDemoPhotos } from '../src/server/demo/loadDemoPhotos.ts';
import { listen } from '../src/server/listen.ts';
import { openArchive } from '../src/server/openArchive.ts';
import { builtUi, sampleImages } from '../src/server/packageRoot.ts';
import { acceptRecords } from '../src/server/store/acceptRecords.ts';

const PLANTS = 200;
const TOUCHES = 45;
const WARM = 5;
/** A person is faster at no mark than this. */
const REST_MS = 400;
const FILE = 'side-tape-10ft-weeds.jpg';
const FIELD = 'Dense Bend';

const folder = mkdtempSync(join(tmpdir(), 'rowledger-bench-'));
const archive = await openArchive(folder);
await loadDemoPhotos(archive);
const { refused } = await acceptRecords(archive.db, denseVisit(), archive.now());
if (refused.length > 0) throw new Error(`the dense visit was refused: ${refused[0]!.message}`);
const listening = await listen(
  createApp({
    ...archive,
    token: null,
    hosts: ['127.0.0.1'],
    uiFolder: builtUi(),
    version: '0',
    report: console.error,
  }),
  { host: '127.0.0.1', port: 0, tls: null },
);
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'],
});
const page = await browser.newPage({ viewport: { width: 1366, height: 768 }, reducedMotion: 'reduce' });
await page.goto(listening.address);
await page.getByLabel('Your name').fill('Ina Voss');
await page.getByRole('button', { name: 'That is me' }).click();
await page.getByText(FIELD).first().click();
await page.locator('.list .row-link').first().click();
await page.getByText('Spot 1', { exact: true }).click();
await page.getByRole('button', { name: 'Correct', exact: true }).click();
await page.locator('.cp-view').nth(1).waitFor();
await page.waitForTimeout(6000);
const inspector = await page.context().newCDPSession(page);
await inspector.send('Performance.enable', { timeDomain: 'threadTicks' });
const busyMs = async () => {
  const { metrics } = await inspector.send('Performance.getMetrics');
  return 1000 * metrics.find(({ name }) => name === 'TaskDuration')!.value;
};
const before = await busyMs();
const times = await page.evaluate(
  async ([touches, warm, restMs]) => {
    const out: { script: number; work: number; drawn: number }[] = [];
    for (let i = 0; i < touches; i++) {
      await new Promise(requestAnimationFrame);
      await new Promise((resolve) => setTimeout(resolve, 30));
      const start = performance.now();
      const press = { key: 'kxwth'[i % 5]!, bubbles: true, cancelable: true };
      document.querySelector('.cp')!.dispatchEvent(new KeyboardEvent('keydown', press));
      await new Promise((resolve) => setTimeout(resolve, 0));
      const script = performance.now() - start;
      const frame = await new Promise<number>(requestAnimationFrame);
      await new Promise((resolve) => setTimeout(resolve, 0));
      const drawn = performance.now() - start;
      out.push({ script, work: script + drawn - Math.max(frame - start, script), drawn });
      await new Promise((resolve) => setTimeout(resolve, restMs));
    }
    return out.slice(warm);
  },
  [TOUCHES, WARM, REST_MS] as const,
);
const cpuMs = (await busyMs()) - before;
const told = (pick: (one: (typeof times)[number]) => number) => {
  const ms = times.map(pick).sort((a, b) => a - b);
  return `${ms[ms.length >> 1]!.toFixed(1)} ms (fastest ${ms[0]!.toFixed(1)}, slowest ${ms.at(-1)!.toFixed(1)})`;
};
console.log(
  `the app, laptop 1366 x 768, ${PLANTS} plants, an answer: key to page ${told((t) => t.script)}, with the frame's own ` +
    `work ${told((t) => t.work)}, to the next frame drawn ${told((t) => t.drawn)}; CPU of the page until the next ` +
    `${(cpuMs / TOUCHES).toFixed(1)} ms`,
);
await browser.close();
await listening.close();
await archive.close();
rmSync(folder, { recursive: true, force: true });

/** The demonstration's visit with photos, at a field of its own, one photo full of plants. */
function denseVisit() {
  const results = JSON.parse(readFileSync(join(sampleImages()!, COUNTS_FILE), 'utf8')) as Record<string, PhotoResult>;
  const whole = results[FILE] as unknown as CountResult;
  const toPhoto = invertHomography(whole.reference.photoToGround!);
  const { fromM, lengthM } = whole.stretch!;
  const sown = whole.plants.find((plant) => plant.kind === 'plant' && plant.inStretch)!;
  const plants = Array.from({ length: PLANTS }, (_, i) => {
    const alongM = fromM + ((i + 0.5) / PLANTS) * lengthM;
    const [xPx, yPx] = applyHomography(toPhoto, [alongM, sown.acrossM!]);
    return { ...sown, id: `p${i}`, xPx, yPx, alongM, confidence: 0.5 + (i % 50) / 100, doubleChance: 0.01 };
  });
  const count = { ...whole.count, value: PLANTS, low: PLANTS - 20, high: PLANTS + 20 };
  const dense = { ...whole, plants, count } as unknown as PhotoResult;
  return demoPhotoRecords({ ...results, [FILE]: dense }).flatMap((record, i) => {
    if (record.kind !== 'visit') return [];
    const changes = JSON.stringify(record.changes)
      .replaceAll('visit-mill-bend', 'dense-visit')
      .replaceAll('field-mill-bend', 'dense-field')
      .replaceAll('Mill Bend', FIELD);
    const thing = record.thing.replace('visit-mill-bend', 'dense-visit');
    return [{ ...record, id: randomUUID(), device: 'bench', sequence: i + 1, thing, changes: JSON.parse(changes) }];
  });
}
