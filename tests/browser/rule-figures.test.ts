// A manager changes a figure of a rule in a real Chromium: sees what the last days would have raised before it is kept,
// is refused at the field, keeps it with a reason, and takes it back.

import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { carryCookie, startBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

let browser: Browser;
let screens: BuiltScreens;
let page: Page;
let cookie: string;

const limit = () => page.getByRole('spinbutton', { name: /^peak to peak/i });
const keptFigures = () =>
  screens.lab.running.lab().stations.find(({ id }) => id === 'shelf-1')?.rules?.['storage-swing'];

beforeAll(async () => {
  browser = await startBrowser();
  screens = await openScreens({ demo: false });
  await fillRecords(screens);
  ({ cookie } = await screens.manager());
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, locale: 'en-GB' });
  await carryCookie(context, cookie, screens.address);
  page = await context.newPage();
  await page.goto(`${screens.address}/set-up/rules?station=shelf-1`);
  await page.getByLabel('Rule').selectOption('storage-swing');
  await limit().waitFor();
});
afterAll(async () => {
  await browser?.close();
  await screens?.close();
});

describe('a trial of rule settings', () => {
  it('shows what the last days would have raised and changes nothing', async () => {
    await limit().fill('3');
    await page.getByRole('button', { name: 'What would it have raised?' }).click();
    // The shelf of the recorded day swings by 4 °C; the usual limit is 5 °C.
    await page.getByText(/1 alarm instead of 0/).waitFor();
    expect(keptFigures()).toBeUndefined();
  });

  it('refuses a setting beyond its bounds at its field and keeps what was typed', async () => {
    await limit().fill('99');
    await page.getByRole('button', { name: 'What would it have raised?' }).click();
    await page.locator('input[aria-invalid=true]').waitFor();
    expect(await limit().getAttribute('aria-invalid')).toBe('true');
    expect(await limit().inputValue()).toBe('99');
    expect(keptFigures()).toBeUndefined();
  });

  it('is saved only with a reason, which is in the audit trail, and can be undone', async () => {
    await limit().fill('3');
    const keep = page.locator('form button[type=submit]');
    expect(await keep.isDisabled()).toBe(true);
    await page.getByRole('textbox', { name: /why|reason/i }).fill('thin margins this week');
    await keep.click();
    await page.getByRole('button', { name: /undo|take back/i }).waitFor();
    expect(keptFigures()).toEqual({ limit_celsius_difference: 3 });
    const trail = await screens.server.inject({ url: '/api/audit', headers: { cookie } });
    expect(trail.body).toContain('thin margins this week');
    await page.getByRole('button', { name: /undo|take back/i }).click();
    await page.getByRole('button', { name: /undo|take back/i }).waitFor({ state: 'detached' });
    expect(keptFigures()).toBeUndefined();
  });
});
