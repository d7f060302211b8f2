import type { BrowserContext, Page } from 'playwright-core';

/** The sample photo's options as its truth file gives them: tape in inches, 30 in rows, 0 to 10 ft, camera at 1.50 m. */
export const SAMPLE = 'sample-images/side-tape-inch.jpg';

/** Invented, like everything here. */
export const PERSON = 'Ina Voss';

export async function sayName(page: Page, name = PERSON): Promise<void> {
  await page.getByLabel('Your name').fill(name);
  await page.getByRole('button', { name: 'That is me' }).click();
  await page.getByLabel('Your name').waitFor({ state: 'detached' });
}

/** A browser's first page, opened at the server by somebody who said a name. */
export async function signIn(browser: BrowserContext, address: string): Promise<Page> {
  const page = browser.pages()[0] ?? (await browser.newPage());
  await page.goto(address);
  await sayName(page);
  return page;
}

export function daysAgo(days: number): string {
  return new Date(Date.now() - days * 86_400_000).toISOString().slice(0, 10);
}

export async function addField(page: Page, field: string): Promise<void> {
  await page.getByRole('link', { name: 'Add a field' }).click();
  await page.getByLabel('Field', { exact: true }).fill(field);
  await page.getByLabel('Farm').fill('Hollow Elm Farm');
  await page.getByLabel('Planted on').fill(daysAgo(21));
  await page.getByLabel('Market class').fill('pinto');
  await page.getByLabel('Row width').fill('30 in');
  await page.getByLabel('Area').fill('38 ac');
  await page.getByLabel('Seed drop').fill('90,000 seeds/ac');
  await page.getByLabel('Seed spacing').fill('100 mm');
  await page.getByRole('button', { name: 'Add the field' }).click();
  await page.getByRole('button', { name: 'Start a visit' }).waitFor();
}

/** Until the page says that the server has everything, which it says only after it looked. */
export async function allSent(page: Page, timeout = 60_000): Promise<void> {
  await page.getByText('All sent', { exact: true }).waitFor({ timeout });
}

/** Starts a visit and answers what is asked before the first count. */
export async function startVisit(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Start a visit' }).click();
  await page.getByText('what does your eye say').waitFor();
  await page.getByLabel('In a few words').fill('thin at the gate');
  await page.getByRole('button', { name: 'Wait', exact: true }).click();
  await page.getByText('rows over').waitFor();
}

export async function setUpPhotos(page: Page): Promise<void> {
  await page.getByText('Photos: Tape').click();
  await page.getByLabel('Count from').fill('0 ft');
  await page.getByLabel('Count to').fill('10 ft');
  await page.getByLabel('Camera height').fill('1.50 m');
}

export async function addPhoto(page: Page, path: string): Promise<void> {
  await page.getByLabel('From gallery').setInputFiles(path);
  await page.getByTestId('photo-count').waitFor({ timeout: 120_000 });
}

export async function backToWalk(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Back to the walk' }).click();
  await page.getByText('rows over').waitFor();
}

export async function tally(page: Page, plants: number): Promise<void> {
  await page.getByRole('button', { name: 'Count by hand' }).click();
  const plus = page.getByRole('button', { name: '+ plant' });
  for (let i = 0; i < plants; i++) await plus.click();
}
