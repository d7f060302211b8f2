/**
 * Prints how long one touch of the correcting view takes in headless Chromium with 200 plants: from the key to the
 * page rendered, to both views drawn, and the CPU time of the page's thread for all of it (what is left on a machine that
 * others use too). Software drawing, no graphics processor. Run with `npx tsx scripts/bench-correct-view.ts`.
 */
import { applyHomography, invertHomography } from '../src/core/geometry/homography.ts';
import { openCorrectPage } from '../tests/e2e/correctPage.ts';
import { correctSample } from '../tests/e2e/correctSample.ts';

const PLANTS = 200;
const TOUCHES = 60;
const sample = correctSample();
const { result } = sample;
const toPhoto = invertHomography(result.reference.photoToGround!);
const plants = Array.from({ length: PLANTS }, (_, i) => {
  const alongM = ((i + 0.5) / PLANTS) * result.stretch!.lengthM;
  const [xPx, yPx] = applyHomography(toPhoto, [alongM, 0.08]);
  return { ...result.plants[0]!, id: `p${i}`, xPx, yPx, alongM, acrossM: 0.08, confidence: 0.5 + (i % 50) / 100 };
});
const site = await openCorrectPage({ ...sample, result: { ...result, plants } }, null);
try {
  for (const [name, width, height] of [
    ['phone 360 x 740', 360, 740],
    ['laptop 1280 x 720', 1280, 720],
  ] as const) {
    const page = await site.browser.newPage({ viewport: { width, height }, reducedMotion: 'reduce' });
    await page.goto(site.address);
    await page.locator('.cp-view').nth(1).waitFor();
    await page.waitForTimeout(1500);
    const inspector = await page.context().newCDPSession(page);
    await inspector.send('Performance.enable', { timeDomain: 'threadTicks' });
    const busyS = async () => {
      const { metrics } = await inspector.send('Performance.getMetrics');
      return metrics.find((metric) => metric.name === 'TaskDuration')!.value;
    };
    const before = await busyS();
    const times = await page.evaluate(async (touches) => {
      const out: { script: number; drawn: number }[] = [];
      for (let i = 0; i < touches; i++) {
        await new Promise((resolve) => requestAnimationFrame(resolve));
        await new Promise((resolve) => setTimeout(resolve, 30));
        const root = document.querySelector('.cp')!;
        const start = performance.now();
        root.dispatchEvent(new KeyboardEvent('keydown', { key: 'kxwth'[i % 5]!, bubbles: true, cancelable: true }));
        await Promise.resolve();
        await new Promise((resolve) => setTimeout(resolve, 0));
        const script = performance.now() - start;
        await new Promise((resolve) => requestAnimationFrame(resolve));
        await new Promise((resolve) => setTimeout(resolve, 0));
        out.push({ script, drawn: performance.now() - start });
      }
      return out.slice(10);
    }, TOUCHES);
    const cpuMs = ((await busyS()) - before) * (1000 / TOUCHES);
    const middle = (pick: (t: (typeof times)[number]) => number) => times.map(pick).sort((a, b) => a - b);
    const [script, drawn] = [middle((t) => t.script), middle((t) => t.drawn)];
    const told = (ms: number[]) =>
      `${ms[ms.length >> 1]!.toFixed(1)} ms (fastest ${ms[0]!.toFixed(1)}, slowest ${ms.at(-1)!.toFixed(1)})`;
    console.log(
      `${name}, ${PLANTS} plants: key to page ${told(script)}, to the next frame drawn ${told(drawn)}, CPU of the page ${cpuMs.toFixed(1)} ms`,
    );
    await page.close();
  }
} finally {
  await site.close();
}
