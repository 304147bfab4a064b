// A manager changes a figure of a rule in a real Chromium: sees what the last days would have raised before it is kept,
// is refused at the field, keeps it with a reason, and takes it back.

import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

let browser: Browser;
let screens: BuiltScreens;
let page: Page;
let cookie: string;

const limit = () => page.getByRole('spinbutton', { name: /^peak to peak/i });
const keptFigures = () =>
  screens.lab.running.lab().stations.find(({ id }) => id === 'shelf-1')?.rules?.['storage-swing'];

beforeAll(async () => {
  browser = await sharedBrowser();
  screens = await openScreens({ demo: false });
  await fillRecords(screens);
  ({ cookie } = await screens.manager());
  page = await openPageFor(browser, screens.address, cookie, {
    viewport: { width: 1280, height: 900 },
    locale: 'en-GB',
  });
  await page.goto(`${screens.address}/set-up/rules?station=shelf-1`);
  await page.getByLabel('Rule').selectOption('storage-swing');
  await limit().waitFor();
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('a trial of rule settings', () => {
  it('shows what the last days would have raised and changes nothing', async () => {
    await limit().fill('3');
    await page.getByRole('button', { name: 'What would it have raised?' }).click();
    // The shelf of the recorded day swings by 4 °C; the usual limit is 6 °C.
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

describe('the screen of rule settings', () => {
  it('keeps station and rule in its address, so that a link or a reload shows the same form', async () => {
    await page.goto(`${screens.address}/set-up/rules?station=shelf-1&rule=storage-rate`);
    await page.getByLabel(/^Faster than this/).waitFor();
    await page.getByLabel('Rule').selectOption('storage-warm');
    await page.getByLabel(/^Added to the limit/i).waitFor();
    expect(new URL(page.url()).search).toBe('?station=shelf-1&rule=storage-warm');
    await page.reload();
    await page.getByLabel(/^Added to the limit/i).waitFor();
  });

  it('lists the rules that count at the kind of the station, and no others', async () => {
    await page.goto(`${screens.address}/set-up/rules?station=shelf-1`);
    await page.getByRole('link', { name: 'Storage swing' }).waitFor();
    expect(await page.getByRole('link', { name: 'Fire risk' }).count()).toBe(0);
    expect(await page.getByRole('link', { name: 'Gateway offline' }).count()).toBe(0);
  });

  it('sets what is about gateways once for the whole lab', async () => {
    await page.getByLabel('Where').selectOption({ label: 'The whole lab' });
    await page.getByRole('link', { name: 'Gateway offline' }).click();
    await page.getByLabel(/^From this many probes on/).fill('4');
    await page.getByRole('textbox', { name: /reason/i }).fill('three gateways of one probe');
    await page.locator('form button[type=submit]').click();
    await page.getByText('The settings are saved.').waitFor();
    expect(screens.lab.running.lab().site.rules).toEqual({ 'gateway-lost': { least_probes_count: 4 } });
  });
});
