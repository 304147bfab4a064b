// The alarms on the page behind the code of a pot: the cause first, what it suppresses behind its names, and all of it by
// the keys of a keyboard alone.

import type { Browser, Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { axeFaults } from './axe.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';

let browser: Browser;
let screens: BuiltScreens;
let page: Page;

/** More keys than the page has stops. */
const MOST_STOPS = 80;

beforeEach(async () => {
  [screens, browser] = await Promise.all([openScreens(), sharedBrowser()]);
  await fillLab(screens, 4);
});
afterEach(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const open = async (): Promise<void> => {
  page = await openScreen(browser, screens.address, '/s/pot-1', {
    cookie: (await screens.manager()).cookie,
    bypassCSP: true,
  });
};
const focused = (): Promise<string> => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');
const tabTo = async (name: string): Promise<void> => {
  for (let stop = 0; stop < MOST_STOPS && (await focused()) !== name; stop += 1)
    await page.keyboard.press('Tab');
  expect(await focused()).toBe(name);
};

describe('the alarms of a pot, on its own page', () => {
  it('show the cause, and what it suppresses by name alone until that is opened', async () => {
    screens.lab.raise('over-ceiling', 'pot-1');
    const hidden = screens.lab.raise('heading-over', 'pot-1');
    screens.lab.step(hidden.id, { type: 'suppress', at: screens.lab.running.now(), reason: 'first-cause' });
    await open();
    const names = page.locator('summary', { hasText: 'Suppressed: Heading over ceiling' });
    await names.waitFor();
    const cards = page.locator('.station-alarms .alarm');
    expect(await cards.filter({ visible: true }).count()).toBe(1);
    await tabTo((await names.textContent()) ?? '');
    await page.keyboard.press('Enter');
    await cards.nth(1).waitFor();
    expect(await cards.filter({ visible: true }).count()).toBe(2);
    expect(await axeFaults(page)).toEqual([]);
  });

  it('are acknowledged and reset by Tab and Enter, with the focus never lost', async () => {
    const alarm = screens.lab.raise('over-ceiling', 'pot-1');
    await open();
    await page.getByRole('button', { name: 'Acknowledge', exact: true }).waitFor();
    await tabTo('Acknowledge');
    await page.keyboard.press('Enter');
    await page.getByText(/Acknowledged by Mara/).waitFor();
    screens.lab.step(alarm.id, { type: 'ends', at: screens.lab.running.now() });
    await page.getByRole('button', { name: 'Reset', exact: true }).waitFor();
    await tabTo('Reset');
    await page.keyboard.press('Enter');
    await page.locator('.alarm').waitFor({ state: 'detached' });
    expect(screens.lab.acts.at(-1)).toMatchObject({ type: 'reset', by: 'Mara' });
    expect(await page.evaluate(() => document.activeElement === document.body)).toBe(false);
  });
});
