// The lab's own bent-stick test in a real Chromium: written down, fitted, judged, drawn, and put in as own values.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';

const HOURS = [0.25, 0.5, 1, 2, 4, 8, 12, 24, 48, 96];
/** 5 mm in the end, τ 12 h at 20 °C, β 0.55, twice as fast every 8 K, read to a hundredth. */
const readings = (celsius: number): string =>
  HOURS.map((hours) => {
    const ratio = (hours * 2 ** ((celsius - 20) / 8)) / 12;
    return `${hours} ${(5 * (1 - Math.exp(-(ratio ** 0.55)))).toFixed(2)}`;
  }).join('\n');

const browser = await sharedBrowser();
let screens: BuiltScreens;
beforeEach(async () => {
  screens = await openScreens({ demo: false });
});
afterEach(async () => {
  await closeContexts(browser);
  await screens.close();
});

const openTest = async (size = { width: 1280, height: 900 }): Promise<Page> => {
  const { cookie } = await screens.manager();
  const page = await openPageFor(browser, screens.address, cookie, {
    viewport: size,
    locale: 'en-GB',
    bypassCSP: true,
  });
  await page.goto(`${screens.address}/set-up/bent-stick`);
  await page.getByRole('heading', { level: 1 }).waitFor();
  return page;
};
const write = async (page: Page, index: number, at: string, text: string): Promise<void> => {
  const stick = page.locator('fieldset.stick').nth(index);
  await stick.locator('input').fill(at);
  await stick.locator('textarea').fill(text);
};

describe('the bent-stick screen', () => {
  it('keeps typed readings after a reload, fits and draws them, and saves the values as the lab’s own', async () => {
    const page = await openTest();
    await write(page, 0, '12', readings(12));
    await write(page, 1, '28', readings(28));
    await page.reload();
    await page.locator('fieldset.stick').nth(1).waitFor();
    expect(await page.locator('fieldset.stick').nth(1).locator('input').inputValue()).toBe('28');
    await page.getByRole('button', { name: 'Fit the curves', exact: true }).click();
    await page.getByRole('heading', { name: 'The readings determine how this wax relaxes' }).waitFor();
    await page.locator('.opening-chart').scrollIntoViewIfNeeded();
    await page.locator('.opening-chart canvas').waitFor();
    expect(await axeFaults(page)).toEqual([]);
    await page.getByRole('button', { name: "Use as the lab's own values" }).click();
    await page.getByText("Saved as the lab's own values.").waitFor();
    const own = Object.values(screens.lab.running.lab().waxOverrides)[0] ?? {};
    expect(Math.abs((own['relaxation.tau'] ?? 0) / 43_200 - 1)).toBeLessThan(0.1);
  });

  it('names a line that is not a reading, and what is missing when readings do not determine the values', async () => {
    const page = await openTest();
    await write(page, 0, '20', '1 2\nnoon 3');
    await page.getByText('Line 2 is not two numbers.').waitFor();
    expect(await page.getByRole('button', { name: 'Fit the curves', exact: true }).isDisabled()).toBe(true);
    await write(page, 0, '20', readings(20));
    await write(page, 1, '21', readings(21));
    await page.getByRole('button', { name: 'Fit the curves', exact: true }).click();
    await page.getByText('store one at least 5 K warmer or colder').waitFor();
    expect(await page.getByRole('button', { name: "Use as the lab's own values" }).count()).toBe(0);
  });

  it('fits the width of a small phone', async () => {
    const page = await openTest({ width: 320, height: 640 });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(320);
    expect(await axeFaults(page)).toEqual([]);
  });
});
