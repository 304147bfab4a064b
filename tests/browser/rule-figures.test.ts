// A manager changes a figure of a rule in a real Chromium: sees what the last days would have raised before it is kept,
// is refused at the field, keeps it with a reason, and takes it back.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;
let cookie: string;
let mara: Awaited<ReturnType<BuiltScreens['manager']>>;

const limit = () => page.getByRole('spinbutton', { name: /^peak to peak/i });
const keptFigures = () =>
  screens.lab.running.lab().stations.find(({ id }) => id === 'shelf-1')?.rules?.['storage-swing'];

beforeAll(async () => {
  screens = await openScreens({ demo: false });
  await fillRecords(screens);
  mara = await screens.manager();
  ({ cookie } = mara);
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
    const labels = await page.locator('form label').allTextContents();
    expect(labels.filter((label) => /\((share|number)?\)/.test(label))).toEqual([]);
    await limit().fill('3');
    await page.getByRole('button', { name: 'What would it have raised?' }).click();
    // The shelf of the recorded day swings by 4 °C; the usual limit is 6 °C.
    await page.getByText(/1 alarm instead of 0/).waitFor();
    await page.getByRole('columnheader', { name: 'On record' }).waitFor();
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
    await expect.poll(() => limit().inputValue()).toBe('');
  });

  it('is not saved over what another manager saved meanwhile, and names who that was', async () => {
    const tom = await screens.person(mara, 'manager', 'Tom');
    const { stations } = (await tom.send('GET', '/api/lab')).json<{ stations: { id: string }[] }>();
    const { id: _, ...shelf } = stations.find(({ id }) => id === 'shelf-1') ?? { id: '' };
    const rules = { 'storage-swing': { limit_celsius_difference: 5 } };
    await limit().fill('4');
    expect((await tom.send('PUT', '/api/stations/shelf-1', { ...shelf, rules })).statusCode).toBe(200);
    await page.getByRole('textbox', { name: /why|reason/i }).fill('wide margins this week');
    await page.locator('form button[type=submit]').click();
    await page
      .getByText(/Tom changed this at .* Nothing was saved/)
      .first()
      .waitFor();
    expect(keptFigures()).toEqual({ limit_celsius_difference: 5 });
    expect(await limit().inputValue()).toBe('4');
    expect((await tom.send('PUT', '/api/stations/shelf-1', { ...shelf, rules: {} })).statusCode).toBe(200);
  });
});

describe('the overview of rule settings', () => {
  const saveStation = (id: string, rules: Readonly<Record<string, Record<string, number>>>): void => {
    const shelf = screens.lab.running.lab().stations.find((station) => station.id === 'shelf-1');
    if (shelf === undefined) throw new Error('the lab for tests has no shelf');
    screens.lab.running.repository.saveStation({
      ...shelf,
      id,
      rules,
      ...(id !== shelf.id && { name: `The ${id}` }),
    });
  };

  it('shows that every rule is as supplied in a lab that has changed none', async () => {
    await page.goto(`${screens.address}/set-up/rules`);
    await page.getByText('Every rule is as supplied.').waitFor();
  });

  it('names each changed setting with where it holds and where it is as supplied', async () => {
    saveStation('shelf-2', { 'storage-swing': { limit_celsius_difference: 3 } });
    saveStation('shelf-3', { 'storage-swing': { limit_celsius_difference: 4 } });
    await page.goto(`${screens.address}/set-up/rules`);
    await page.getByRole('heading', { name: 'Shelf: 3 stations' }).waitFor();
    const [row] = await page.locator('.rule-difference tbody tr').all();
    expect(await row?.locator('td').allTextContents()).toEqual([
      expect.stringMatching(/^6 \(/),
      '3 · The shelf-24 · The shelf-3',
      expect.stringContaining('shelf'),
    ]);
    expect(await row?.locator('td').last().locator('a').getAttribute('href')).toBe(
      '/set-up/rules?station=shelf-1&rule=storage-swing',
    );
  });

  it('sets what the settings as supplied would have raised beside the record of each station', async () => {
    saveStation('shelf-1', { 'storage-swing': { limit_celsius_difference: 3 } });
    await page.goto(`${screens.address}/set-up/rules`);
    await page.getByRole('button', { name: 'Compare with the settings as supplied' }).click();
    const rows = page.locator('.rule-difference [role=status] tbody tr');
    await rows.last().waitFor();
    // The recorded day swings by 4 °C: over the limit that was set, under the one as supplied; no alarm is on record.
    const first = rows.filter({ hasText: 'Pattern shelf' });
    expect(await first.locator('td').allTextContents()).toEqual(['0', '1', '0']);
    await page.getByText('At 1 of 3 stations the replay').waitFor();
    await page.emulateMedia({ media: 'print' });
    expect(await page.getByRole('button', { name: 'Compare with' }).count()).toBe(0);
    expect(await rows.count()).toBe(4);
    await page.emulateMedia({ media: 'screen' });
  });

  it('is read in German on a phone without anything cut', async () => {
    const phone = await openPageFor(browser, screens.address, cookie, {
      viewport: { width: 320, height: 640 },
      locale: 'de-DE',
    });
    await phone.goto(`${screens.address}/set-up/rules`);
    await phone.getByText('Was dieses Labor geändert hat.').waitFor();
    expect(await phone.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(320);
    await phone.context().close();
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
    await page.getByLabel(/^With at least this many probes/).fill('4');
    await page.getByRole('textbox', { name: /reason/i }).fill('three gateways of one probe');
    await page.locator('form button[type=submit]').click();
    await page.getByText('The settings are saved.').waitFor();
    expect(screens.lab.running.lab().site.rules).toEqual({ 'gateway-lost': { least_probes_count: 4 } });
  });
});
