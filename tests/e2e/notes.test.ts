import { rmSync } from 'node:fs';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { faultsOf, tabTo } from './checkPage.ts';
import { newProfile, openBrowser, startServer, watchErrors } from './support.ts';
import { addField, allSent, daysAgo, sayName, startVisit, tally } from './walkSteps.ts';

// A browser on two busy cores takes its time; nothing here is a measurement.
vi.setConfig({ testTimeout: 180_000, hookTimeout: 180_000 });

interface Whole {
  readonly row: { readonly problem: string | null };
  readonly document: Record<string, unknown>;
}

describe('what else there is to say of a visit', () => {
  const profile = newProfile();
  let server: Awaited<ReturnType<typeof startServer>>;
  let browser: BrowserContext;
  let page: Page;
  let errors: string[];
  const faults: string[] = [];
  const check = async (place: string) => faults.push(...(await faultsOf(page, place)));
  const openNote = async (name: string) => {
    await page.getByRole('link', { name: 'All notes' }).click();
    await page.getByRole('link', { name }).click();
    await page.getByRole('heading', { name, exact: true }).waitFor();
  };

  beforeAll(async () => {
    server = await startServer({ demo: false });
    browser = await openBrowser(profile, { viewport: { width: 360, height: 740 } });
    page = browser.pages()[0] ?? (await browser.newPage());
    errors = watchErrors(page);
    await page.goto(server.address);
    await sayName(page);
    await addField(page, 'Knoll Field');
    await startVisit(page);
    for (const plants of [14, 6]) {
      await tally(page, plants);
      await page.getByRole('link', { name: 'Done here' }).click();
      await page.getByText('rows over').waitFor();
    }
  });
  afterAll(async () => {
    await browser.close();
    await server.close();
    rmSync(profile, { recursive: true, force: true });
  });

  test('zones by keyboard alone; each spot in its zone', async () => {
    const press = async (name: string) => {
      await tabTo(page, name);
      await page.keyboard.press('Enter');
    };
    await press('Notes');
    await page.getByRole('heading', { name: 'Notes' }).waitFor();
    await check('notes');
    await press('Zones');
    await page.getByRole('heading', { name: 'Zones' }).waitFor();
    await press('Knoll');
    await tabTo(page, 'Area');
    await page.keyboard.type('2');
    await press('Add the zone');
    await page.getByRole('heading', { name: 'Knoll, 0 spots' }).waitFor();
    await press('The rest: 36 ac');
    await page.getByRole('group', { name: 'Spot 1' }).getByRole('button', { name: 'The rest' }).click();
    await page.getByRole('group', { name: 'Spot 2' }).getByRole('button', { name: 'Knoll' }).click();
    await page.getByRole('heading', { name: 'Knoll, 1 spot' }).waitFor();
    await check('notes-zones');
  });

  test('signs by tap: the ranking follows, and says what to look for next', async () => {
    await openNote('Signs');
    await page.getByRole('button', { name: 'Yes: knolls' }).click();
    await page.getByLabel('Find a sign').fill('rubbed');
    await page.getByRole('button', { name: /^Yes: stems rubbed/ }).click();
    await page.getByLabel('Find a sign').fill('');
    const likely = page.locator('.numbers div').first();
    await expect.poll(() => likely.textContent()).toMatch(/sand/);
    await page.getByRole('heading', { name: 'Look for this next' }).waitFor();
    await page.locator('.card .sign').getByRole('button', { name: /^No:/ }).click();
    await check('notes-signs');
  });

  test('weather typed and from a table without a column for the medium', async () => {
    await openNote('Weather');
    await page.getByRole('button', { name: 'Soft' }).click();
    await page.getByLabel('Low, F').fill('52');
    await page.getByLabel('High, F').fill('71');
    await page.getByRole('button', { name: 'Add the day' }).click();
    await page.getByText('1 day').first().waitFor();
    const table = `date,min_f,max_f\n${daysAgo(20)},54,70\n${daysAgo(19)},55,73\n`;
    await page
      .getByLabel('From a table (CSV)')
      .setInputFiles({ name: 'soil.csv', mimeType: 'text/csv', buffer: Buffer.from(table) });
    await page.getByText('2 days taken in.').waitFor();
    await page.getByText('3 days', { exact: true }).waitFor();
    await page
      .getByLabel('From a table (CSV)')
      .setInputFiles({ name: 'wrong.csv', mimeType: 'text/csv', buffer: Buffer.from('day,low\n1,2\n') });
    await page.getByText('unknown columns "day", "low"').waitFor();
    await check('notes-weather');
  });

  test('damage, scouting, earlier counts, spraying, costs, planting', async () => {
    await openNote('Damage');
    await page.getByRole('button', { name: 'sand', exact: true }).click();
    for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Growing point green: one more' }).click();
    await page.getByRole('group', { name: 'Only in zone' }).getByRole('button', { name: 'Knoll' }).click();
    await page.getByText('Stage, leaves, frost').click();
    await page.getByLabel('Growth stage').fill('V1');
    await check('notes-damage');
    await page.getByRole('link', { name: 'Plant by plant' }).click();
    await page.getByRole('heading', { name: 'sand, plant by plant' }).waitFor();
    for (const finding of [/bud green/, /bud green/, /below the cotyledons/, /folded over/]) {
      await page.getByRole('button', { name: finding }).first().click();
    }
    await page.getByRole('button', { name: 'Take back: Stem bruised and folded over' }).click();
    await page.locator('[data-testid="seen"][data-kept="true"]', { hasText: '3 plants' }).waitFor();
    await check('notes-damage-seen');
    await page.getByRole('link', { name: 'Done here' }).click();
    await page.getByRole('link', { name: 'Plant by plant: 3' }).waitFor();
    await page.getByText('6 plants looked at').waitFor();
    await openNote('People');
    await page.getByLabel('What Ina Voss does').fill('scout');
    await check('notes-people');
    await openNote('Pests, hoe, salt');
    await page.getByRole('button', { name: 'Larvae found: one more' }).click();
    await page.getByLabel('Plants lost to the rotary hoe').fill('4');
    await check('notes-scouting');
    await openNote('Earlier counts');
    await page.getByLabel('Counted on').fill(daysAgo(6));
    await page.getByLabel('Stand').fill('41,000');
    await page.getByRole('button', { name: 'Add the count' }).click();
    await page.getByText('41,000/ac').or(page.getByText('41,000 plants/ac')).waitFor();
    await check('notes-earlier');
    await openNote('Spraying');
    await page.getByRole('button', { name: 'Not sprayed' }).click();
    await check('notes-spraying');
    await openNote('Costs');
    for (const [label, value] of [
      ['Yield of a full stand', '2,200'],
      ['Price', '34'],
      ['Seed to replant', '60'],
      ['Planting again', '20'],
    ] as const) {
      // Key by key: the unit must not come between the digits.
      await page.getByLabel(label).pressSequentially(value);
    }
    await page.getByText('Other costs and days').click();
    await page.getByLabel('Later harvest, drying').fill('5');
    await check('notes-costs');
    await openNote('Field and planting');
    await page.getByRole('group', { name: 'Insured' }).getByRole('button', { name: 'Yes' }).click();
    await page.getByRole('group', { name: 'Growth habit' }).getByRole('button', { name: 'II upright vine' }).click();
    await page.getByLabel('Depth').fill('2');
    await page.getByLabel('Region of Hollow Elm Farm').fill('red river valley');
    await check('notes-planting');
  });

  test('all of it reaches the server as one valid visit', async () => {
    await page.getByRole('link', { name: 'Back to the walk' }).click();
    await page.getByRole('group', { name: 'Zone here' }).waitFor();
    await check('walk-zones');
    await page.evaluate(() => dispatchEvent(new Event('online')));
    await allSent(page);
    const list = (await server.get('/api/things/visit')) as { items: { id: string }[] };
    const { row, document } = (await server.get(`/api/things/visit/${list.items[0]?.id}`)) as Whole;
    expect(row.problem).toBeNull();
    const zones = document.zones as { id: string; name: string; area: string }[];
    expect(zones.map(({ name, area }) => [name, area])).toEqual([
      ['Knoll', '2 ac'],
      ['The rest', '36 ac'],
    ]);
    expect((document.spots as { zoneId: string }[]).map((spot) => spot.zoneId)).toEqual([zones[1]?.id, zones[0]?.id]);
    expect(document).toMatchObject({
      signs: { seen: ['knolls', 'one-sided abrasion'] },
      weather: { crust: 'soft', days: [{ minimum: '52 F', medium: 'soil' }, { minimum: '54 F' }, { maximum: '73 F' }] },
      damage: [
        {
          hazard: 'sand',
          zoneId: zones[0]?.id,
          plants: { growing: 3 },
          stage: { code: 'V1' },
          seen: [
            { number: 2, growingPoint: 'gone', axillaryBuds: 'green' },
            { number: 1, cut: 'below cotyledons' },
          ],
        },
      ],
      people: [{ name: 'Ina Voss', role: 'scout' }],
      farm: { name: 'Hollow Elm Farm', region: 'red river valley' },
      scouting: { cutworm: { larvae: 1, rowLength: '10 ft' }, hoeLoss: '4 %' },
      earlierCounts: [{ population: '41,000 plants/ac' }],
      sprayings: [],
      economics: { fullYield: '2,200 lb/ac', price: '34/cwt', seed: '60/ac', drying: '5/ac' },
      field: { insured: true },
      planting: { growthHabit: 'II', depth: '2 in', rowWidth: '30 in' },
    });
    const plantings = (await server.get('/api/things/planting')) as { items: { id: string }[] };
    const planting = (await server.get(`/api/things/planting/${plantings.items[0]?.id}`)) as Whole;
    expect(planting.document).toMatchObject({ growthHabit: 'II', depth: '2 in', seedDrop: '90,000 seeds/ac' });
    const farms = (await server.get('/api/things/farm')) as { items: { id: string }[] };
    const farm = (await server.get(`/api/things/farm/${farms.items[0]?.id}`)) as Whole;
    expect([farm.row.problem, farm.document.region]).toEqual([null, 'red river valley']);
    expect(server.reported).toEqual([]);
  });

  test('a hoop by keyboard alone; a row with its gaps', async () => {
    await tabTo(page, 'Count by hand');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: '+ plant' }).waitFor();
    await tabTo(page, 'Hoop');
    await page.keyboard.press('Enter');
    await page.getByLabel('Inside diameter').waitFor();
    await check('tally-hoop');
    await page.getByLabel('Inside diameter').fill('28.25');
    await tabTo(page, '+ plant');
    for (let i = 0; i < 4; i++) await page.keyboard.press('Space');
    await tabTo(page, 'Done here');
    await page.keyboard.press('Enter');
    // A hoop of 28.25 in holds 1/10,000 of an acre (pi/4 x 28.25^2 = 626.8 in2 of 6,272,640), so 4 plants are 40,000.
    await page.getByText('40,000 plants/ac').waitFor();
    await page.getByRole('button', { name: 'Count by hand' }).click();
    await page.getByRole('button', { name: '+ plant' }).click();
    await page.getByText('Gaps', { exact: true }).click();
    await page.getByLabel('Gap of, in').fill('26');
    await page.getByRole('button', { name: 'Add the gap' }).click();
    await page.getByText('Gaps: 26 in').waitFor();
    await check('tally-gaps');
    await page.getByRole('link', { name: 'Done here' }).click();
    await page.getByText('Spot 4', { exact: true }).waitFor();
  });

  test('own targets by keyboard alone: they move the target of the walk and reach the server', async () => {
    await tabTo(page, 'Settings');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Settings' }).waitFor();
    await tabTo(page, 'Own targets');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Own targets' }).waitFor();
    for (const [label, text] of [
      ['Market class', 'pinto'],
      ['Least', '41000'],
      ['Most', '43000'],
    ] as const) {
      await tabTo(page, label);
      await page.keyboard.type(text);
    }
    await tabTo(page, 'Add the target');
    await page.keyboard.press('Enter');
    await page.getByText('41000 plants/ac to 43000 plants/ac').waitFor();
    await check('targets');
    await allSent(page);
    const told = () => server.get('/api/targets') as Promise<{ targets: { rows: { low: string }[] } | null }>;
    expect((await told()).targets?.rows[0]?.low).toBe('41000 plants/ac');
    await page.goto(`${server.address}/#/visits`);
    await page.getByRole('link', { name: /Knoll Field/ }).click();
    await page.getByText('of the target, 42,000 plants/ac').waitFor();
  });

  test('nothing serious by axe-core, no small target, no error', () => {
    expect(faults).toEqual([]);
    expect(errors).toEqual([]);
  });
});
