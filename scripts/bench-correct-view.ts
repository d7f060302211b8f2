/**
 * Prints how long one touch of the correcting view takes in headless Chromium with 200 plants: an answer to a mark, a step
 * sideways, a step nearer; from the key to the page rendered and to the frame with the numbers and the view in hand (the
 * other view and the hidden list follow in the next), and the CPU time of the page's thread for all of it with its parts
 * (CPU time is what is left on a machine that others use too). The next frame is waited for, up to 17 ms from wherever the
 * key falls, so what the page does for it is also told without that wait. Software drawing, no graphics processor. Run
 * with `npx tsx scripts/bench-correct-view.ts`.
 */
import { applyHomography, invertHomography } from '../src/core/geometry/homography.ts';
import { openCorrectPage } from '../tests/e2e/correctPage.ts';
import { correctSample } from '../tests/e2e/correctSample.ts';

const PLANTS = 200;
const TOUCHES = 60;
const PARTS = ['TaskDuration', 'ScriptDuration', 'RecalcStyleDuration', 'LayoutDuration'] as const;
/** Keys pressed by turns, with or without Alt. */
const TOUCHES_OF: readonly (readonly [what: string, keys: readonly (readonly [key: string, alt: boolean])[]])[] = [
  ['an answer', [...'kxwth'].map((key) => [key, false] as const)],
  [
    'a step sideways',
    (['ArrowRight', 'ArrowRight', 'ArrowLeft', 'ArrowLeft'] as const).map((key) => [key, true] as const),
  ],
  ['a step nearer', [...'++--'].map((key) => [key, false] as const)],
];
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
    const busyMs = async () => {
      const { metrics } = await inspector.send('Performance.getMetrics');
      const of = (name: string) => 1000 * metrics.find((metric) => metric.name === name)!.value;
      return PARTS.map((part) => of(part));
    };
    for (const [what, keys] of TOUCHES_OF) {
      const before = await busyMs();
      const times = await page.evaluate(
        async ([touches, keys]) => {
          const out: { script: number; work: number; drawn: number }[] = [];
          for (let i = 0; i < touches; i++) {
            await new Promise((resolve) => requestAnimationFrame(resolve));
            await new Promise((resolve) => setTimeout(resolve, 30));
            const root = document.querySelector('.cp')!;
            const start = performance.now();
            const [key, altKey] = keys[i % keys.length]!;
            root.dispatchEvent(new KeyboardEvent('keydown', { key, altKey, bubbles: true, cancelable: true }));
            await Promise.resolve();
            await new Promise((resolve) => setTimeout(resolve, 0));
            const script = performance.now() - start;
            const frame = await new Promise<number>((resolve) => requestAnimationFrame(resolve));
            await new Promise((resolve) => setTimeout(resolve, 0));
            const drawn = performance.now() - start;
            out.push({ script, work: script + drawn - Math.max(frame - start, script), drawn });
          }
          return out.slice(10);
        },
        [TOUCHES, keys] as const,
      );
      const after = await busyMs();
      const [all, ...parts] = after.map((ms, i) => (ms - before[i]!) / TOUCHES);
      const sorted = (pick: (t: (typeof times)[number]) => number) => times.map(pick).sort((a, b) => a - b);
      const told = (ms: number[]) =>
        `${ms[ms.length >> 1]!.toFixed(1)} ms (fastest ${ms[0]!.toFixed(1)}, slowest ${ms.at(-1)!.toFixed(1)})`;
      console.log(
        `${name}, ${PLANTS} plants, ${what}: CPU of the page ${all!.toFixed(1)} ms ` +
          `(script ${parts[0]!.toFixed(1)}, style ${parts[1]!.toFixed(1)}, layout ${parts[2]!.toFixed(1)}); ` +
          `key to page ${told(sorted((t) => t.script))}, with the frame's own work ${told(sorted((t) => t.work))}, ` +
          `to the next frame drawn ${told(sorted((t) => t.drawn))}`,
      );
    }
    await page.close();
  }
} finally {
  await site.close();
}
