// What people mean a station to do, entered on the page that the code on a pot opens: the built product, a real broker, a
// real browser of a phone's size.

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StationView } from '../../dashboard/api/schemas.ts';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../integration/lab-process.ts';
import { type Mosquitto, startMosquitto } from '../integration/mosquitto.ts';
import { until } from '../integration/until.ts';
import { carryCookie, closeContexts, sharedBrowser } from './browser.ts';

const LAB = `
site: { id: quay, name: Quay Laboratory, timeZone: Europe/Lisbon }
stations:
  - { id: big-pot, name: Big pot, kind: melt-pot, wax: inlay-type-2, charge_grams: 100 }
  - { id: drawer, name: Cool drawer, kind: cabinet, wax: inlay-type-2 }
`;

let mosquitto: Mosquitto;
const browser = await sharedBrowser();
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let context: BrowserContext;
let page: Page;

const intents = async (): Promise<StationView['intents']> => {
  const answer = await context.request.get(`${labProcess.address}/api/stations`);
  const views = (await answer.json()) as StationView[];
  return views.find(({ id }) => id === 'big-pot')?.intents ?? [];
};
const tap = (name: string) => page.getByRole('button', { name, exact: true }).tap();
const planned = () => page.locator('.intent-list');

beforeAll(async () => {
  folder = await temporaryFolder();
  await writeFile(join(folder.path, 'lab.yaml'), LAB);
  mosquitto = await startMosquitto();
  labProcess = await startLabProcess({
    data: join(folder.path, 'data'),
    args: ['--port', '0', '--broker', mosquitto.url, '--lab', join(folder.path, 'lab.yaml')],
  });
  context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: 'en-GB',
    timezoneId: 'America/New_York',
    hasTouch: true,
  });
  await carryCookie(context, await joinAsFirst(labProcess), labProcess.address);
  page = await context.newPage();
  await page.goto(`${labProcess.address}/s/big-pot`);
});
afterAll(async () => {
  await labProcess?.stop();
  await Promise.all([closeContexts(browser), mosquitto?.dispose()]);
  await folder?.remove();
});

describe('whoever works by keyboard', () => {
  const focused = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? '');

  it('keeps the focus on a button that is disabled while its act is under way', async () => {
    await page.getByRole('button', { name: 'Pot was cleaned', exact: true }).press('Enter');
    await page.getByText('Saved.').first().waitFor();
    await until(async () => (await focused()) === 'Pot was cleaned');
  });

  it('gets the focus near the place of a button that its act took away', async () => {
    await page.getByRole('button', { name: 'Cleaning', exact: true }).press('Enter');
    await planned()
      .getByText(/^Cleaning until/)
      .waitFor();
    await until(async () => (await focused()) === 'Topping up' || (await focused()).startsWith('Take back'));
    await page.getByRole('button', { name: 'Take back: Cleaning' }).press('Enter');
    await until(async () => (await intents()).length === 0);
    await until(async () => (await focused()) === 'Topping up');
  });
});

describe('an intent on the page of a pot', () => {
  it('is entered with one tap, shows when it ends and by whom, and is taken back with one tap', async () => {
    await tap('Topping up');
    await planned()
      .getByText(/^Topping up until .*\d\d:\d\d$/)
      .waitFor();
    const [intent] = await intents();
    expect(intent).toMatchObject({ kind: 'topping-up' });
    expect(await planned().textContent()).toContain(intent?.by);
    await tap('Take back: Topping up');
    await planned().waitFor({ state: 'detached' });
    expect(await intents()).toEqual([]);
  });

  it('demands a time where it needs one, and takes it as the time of the lab', async () => {
    await tap('Staying late…');
    await page.getByLabel('Staying late: At what time?').fill('23:30');
    await tap('Staying late');
    await planned()
      .getByText(/^Staying late until .*23:30$/)
      .waitFor();
    const [intent] = await intents();
    const shown = new Intl.DateTimeFormat('en-GB', { timeStyle: 'short', timeZone: 'Europe/Lisbon' });
    expect(shown.format(Date.parse(intent?.until ?? ''))).toBe('23:30');
    await tap('Take back: Staying late');
    await planned().waitFor({ state: 'detached' });
  });

  it('waits on the phone without a network, taking back as well, and is sent in the same order', async () => {
    await tap('Probe taken out');
    await planned().getByText('Probe taken out').waitFor();
    await context.setOffline(true);
    await tap('Probe is back');
    await page.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
    await tap('Cleaning');
    await page.getByRole('heading', { name: 'Waiting to be sent (2)' }).waitFor();
    await context.setOffline(false);
    await page.getByRole('heading', { name: /Waiting to be sent/ }).waitFor({ state: 'detached' });
    await until(async () => (await intents()).map(({ kind }) => kind).join() === 'cleaning');
    await planned()
      .getByText(/^Cleaning until/)
      .waitFor();
  });

  it('is beside the pot in the list of stations', async () => {
    await page.goto(`${labProcess.address}/phone`);
    await page
      .locator('.station-row', { hasText: 'Big pot' })
      .getByText(/Cleaning until/)
      .waitFor();
  });

  it('is offered at a storage place only for its probe', async () => {
    await page.goto(`${labProcess.address}/station/drawer`);
    await page.getByRole('button', { name: 'Probe taken out' }).waitFor();
    expect(await page.locator('.intent-offers button').count()).toBe(1);
  });
});
