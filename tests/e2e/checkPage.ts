import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';
import { shot } from './support.ts';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** A thumb in a glove; WCAG 2.5.5 asks for 44 CSS px, style guides of phones for 48. */
const LEAST_TARGET_PX = 48;

interface AxeResult {
  readonly violations: readonly {
    readonly id: string;
    readonly impact: string | null;
    readonly nodes: readonly { readonly html: string }[];
  }[];
}

/**
 * What is wrong with the page as it stands: serious faults by axe-core (WCAG 2.0 and 2.1, A and AA, best practices),
 * targets under 48 px in either direction, anything that makes a phone scroll sideways, options of the command line in
 * its text. Keeps a picture of it.
 */
export async function faultsOf(page: Page, place: string): Promise<readonly string[]> {
  // Evaluated from outside the page: its own policy forbids added scripts.
  await page.evaluate(AXE);
  const found = (await page.evaluate('axe.run()')) as AxeResult;
  const serious = found.violations
    .filter(({ impact }) => impact === 'serious' || impact === 'critical')
    .map(({ id, nodes }) => `${place}: ${id}: ${nodes[0]?.html}`);
  const layout = await page.evaluate((least) => {
    const wrong: string[] = [];
    for (const one of document.querySelectorAll<HTMLElement>(
      'a, button, select, input, textarea, summary, video[controls], [tabindex="0"], [role="button"]',
    )) {
      const box = (one.closest('label.file, .pick label') ?? one).getBoundingClientRect();
      // Nobody aims at what is not shown: closed notes, lists for people who hear the page.
      if (box.width === 0 || getComputedStyle(one).visibility === 'hidden') continue;
      if (one.closest('.cp-hidden') !== null) continue;
      // Links inside a sentence are read, not aimed at.
      const around = (one.parentElement?.textContent ?? '').replace(one.textContent ?? '', '').trim();
      if (one.tagName === 'A' && getComputedStyle(one).display === 'inline' && around !== '') continue;
      if (Math.min(box.width, box.height) < least - 0.5) {
        wrong.push(`${Math.round(box.width)} x ${Math.round(box.height)} px: ${one.outerHTML.slice(0, 90)}`);
      }
    }
    const wide = document.documentElement.scrollWidth - innerWidth;
    if (wide > 0) wrong.push(`${wide} px wider than the screen`);
    const option = /\B--[a-z][\w-]*/.exec(document.body.textContent ?? '');
    if (option !== null) wrong.push(`says ${option[0]}, which only a command line knows`);
    return wrong;
  }, LEAST_TARGET_PX);
  await shot(page, place);
  return [...serious, ...layout.map((one) => `${place}: ${one}`)];
}

/** Presses Tab until the focus is where the name says, as somebody without a pointer would. */
export async function tabTo(page: Page, name: string): Promise<void> {
  for (let i = 0; i < 120; i++) {
    await page.keyboard.press('Tab');
    const text = await page.evaluate(() => {
      const on = document.activeElement as HTMLInputElement | null;
      return on?.getAttribute('aria-label') || on?.labels?.[0]?.textContent || on?.textContent || '';
    });
    if (text.trim().startsWith(name)) return;
  }
  throw new Error(`no way to "${name}" by Tab`);
}
