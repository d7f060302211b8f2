import { openCorrectPage } from '/work/main/tests/e2e/correctPage.ts';
import { correctSample } from '/work/main/tests/e2e/correctSample.ts';

const s = correctSample();
console.log(s.result.count, s.truth.count, s.result.gaps, s.truth.gaps);
const p = await openCorrectPage(s, 26 / (3.048 * 0.762));
for (const [name, width, height] of [
  ['phone', 360, 740],
  ['laptop', 1280, 720],
] as const) {
  const page = await p.browser.newPage({ viewport: { width, height }, deviceScaleFactor: 2 });
  page.on('console', (m) => console.log(m.text()));
  page.on('pageerror', (e) => console.log('ERR', e.message));
  await page.goto(p.address);
  await page.waitForSelector('.cp');
  await page.waitForTimeout(3500);
  await page.screenshot({ path: `/tmp/cp-${name}-1.png` });
  for (const key of ['k', 'x', 'w', 't', 'h']) {
    await page.keyboard.press(key);
    await page.waitForTimeout(250);
  }
  await page.waitForTimeout(600);
  await page.screenshot({ path: `/tmp/cp-${name}-2.png` });
  console.log(await page.textContent('[role=status]'));
  await page.close();
}
await p.close();
