// A maker calls a lot back: lots are recorded, filled in, topped up and made into patterns on the screens, and one search
// then names every pattern and pot that holds the wax.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;
beforeAll(async () => {
  screens = await openScreens({ demo: false });
  await fillLab(screens, 2);
  const { cookie } = await screens.manager();
  page = await openPageFor(browser, screens.address, cookie, {
    locale: 'en-GB',
    serviceWorkers: 'block',
    viewport: { width: 390, height: 844 },
  });
  page.setDefaultTimeout(15_000);
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const open = (path: string) => page.goto(screens.address + path);
const press = (name: string) => page.getByRole('button', { name, exact: true }).click();

const recordLot = async (maker: string, number: string): Promise<void> => {
  await open('/lots');
  await page.getByLabel('Maker and wax, as on the pack').fill(maker);
  await page.getByLabel('Lot number').last().fill(number);
  await press('Save lot');
  await page.getByText('Lot recorded.').waitFor();
};

const registerPattern = async (caseReference: string, from: string, lot?: string): Promise<void> => {
  await open('/patterns/new');
  await page.getByLabel('Wax from').selectOption({ label: from });
  if (lot !== undefined) await page.getByLabel('Lot', { exact: true }).selectOption({ label: lot });
  await page.getByLabel('Case reference').fill(caseReference);
  await press('Save pattern');
  await page.getByRole('heading', { name: caseReference }).waitFor();
};

describe('a recall', () => {
  it('begins with lots that are recorded from the pack, each of which can be undone at once', async () => {
    await recordLot('North Wax dip green', 'X-12045');
    await recordLot('South Wax dip blue', 'Y-7');
    await recordLot('Mistaken', 'Z');
    await press('Undo');
    await page.getByText('Undone: it is as it was before.').waitFor();
    await page.getByRole('link', { name: 'Mistaken, Z' }).waitFor({ state: 'detached' });
  });

  it('goes through the pot: filled with one lot, topped up with another, patterns made before and after', async () => {
    await open('/s/pot-1');
    await page.getByLabel('Lot', { exact: true }).selectOption({ label: 'X-12045, North Wax dip green' });
    await page.getByLabel('Grams', { exact: true }).fill('200');
    await press('Fill with fresh wax');
    await page.getByText('North Wax dip green, X-12045: 100%').waitFor();
    screens.lab.pass(60);
    await registerPattern('301 crown', 'Melt pot 1');
    await page.getByRole('link', { name: 'North Wax dip green, X-12045: 100%' }).waitFor();
    screens.lab.pass(60);
    await open('/s/pot-1');
    await page.getByLabel('Grams of fresh wax').fill('50');
    await page.getByLabel('Lot', { exact: true }).first().selectOption({ label: 'Y-7, South Wax dip blue' });
    await press('Top up');
    await page.getByText('South Wax dip blue, Y-7: 25%').waitFor();
    screens.lab.pass(60);
    await registerPattern('302 bridge', 'Melt pot 1');
    await registerPattern('303 onlay', 'straight from the pack', 'Y-7, South Wax dip blue');
    await press('Invested');
    await page.getByText(/^invested, /).waitFor();
  });

  it('is one search: which patterns hold the lot, where they lie, which are invested, and which pot', async () => {
    await open('/lots');
    await page.getByLabel('Maker or lot number').fill('south y7');
    await press('Find what holds it');
    await page.getByText('1 waiting pattern, 1 ended, in 1 pot now.').waitFor();
    const row = (name: string) => page.locator('tr', { hasText: name });
    expect(await row('302 bridge').textContent()).toMatch(/not invested.*Pattern shelf.*Y-7.*25%/);
    expect(await row('303 onlay').textContent()).toMatch(/invested, .*100%/);
    expect(await page.locator('tr', { hasText: '301 crown' }).count()).toBe(0);
    expect(await row('Melt pot 1').textContent()).toMatch(/in the pot now.*25%/);
    await page.getByRole('link', { name: '302 bridge' }).click();
    await page.getByRole('heading', { name: '302 bridge' }).waitFor();
  });

  it("shows on the lot's page what its sheet states, and the pot then has that ceiling", async () => {
    await open('/lots');
    await page.getByRole('link', { name: 'North Wax dip green, X-12045' }).click();
    await page.getByRole('heading', { name: 'North Wax dip green, X-12045' }).waitFor();
    await page.getByLabel('Value, °C').fill('83');
    await press('Save value');
    await page.getByText('Value of the sheet saved.').waitFor();
    await open('/station/pot-1');
    await page.getByText('sheet of North Wax dip green, lot X-12045').waitFor();
  });
});
