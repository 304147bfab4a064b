// A technician's phone: a pattern registered, moved, ended and taken back; a pot topped up while the network is
// away or the answer is lost. The built product, a real browser; what was done is done once.

import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ChargeView } from '../../dashboard/api/charges.ts';
import type { PatternView } from '../../dashboard/api/patterns.ts';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../integration/lab-process.ts';
import { axeFaults } from './axe.ts';
import { carryCookie, closeContexts, sharedBrowser } from './browser.ts';

const LAB = `
site: { id: mill-lane, name: Mill Lane Laboratory, timeZone: Europe/Lisbon }
stations:
  - { id: big-pot, name: Big pot, kind: melt-pot, wax: inlay-type-2, charge_grams: 100 }
  - { id: oven, name: Softener, kind: annealer, wax: inlay-type-1 }
  - { id: drawer, name: Cool drawer, kind: cabinet, wax: inlay-type-2 }
  - { id: sill, name: Window sill, kind: shelf, wax: inlay-type-2 }
`;

const browser = await sharedBrowser();
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let context: BrowserContext;
let page: Page;

const ask = async <T>(path: string): Promise<T> =>
  (await (await context.request.get(labProcess.address + path)).json()) as T;
const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
const charges = () => ask<ChargeView[]>('/api/charges?station=big-pot');

beforeAll(async () => {
  folder = await temporaryFolder();
  await writeFile(join(folder.path, 'lab.yaml'), LAB);
  const args = ['--port', '0', '--broker', 'embedded:0', '--lab', join(folder.path, 'lab.yaml')];
  labProcess = await startLabProcess({ data: join(folder.path, 'data'), args });
  const cookie = await joinAsFirst(labProcess);
  context = await browser.newContext({
    viewport: { width: 390, height: 844 },
    locale: 'en-GB',
    bypassCSP: true,
    serviceWorkers: 'block',
  });
  await carryCookie(context, cookie, labProcess.address);
  page = await context.newPage();
  page.setDefaultTimeout(10_000);
});
afterAll(async () => {
  await closeContexts(browser);
  await labProcess?.stop();
  await folder?.remove();
});

describe('a pattern on the phone', () => {
  let id: string;

  it('is registered by its case alone, with the usual values of the lab filled in', async () => {
    await page.goto(`${labProcess.address}/patterns/new`);
    await page.getByLabel('Case reference').fill('M 12 crown');
    await page.getByLabel('Stored in').selectOption('Window sill');
    expect(await axeFaults(page)).toEqual([]);
    await press('Save pattern');
    await page.getByRole('heading', { name: 'M 12 crown' }).waitFor();
    const [pattern] = await ask<PatternView[]>('/api/patterns');
    expect(pattern).toMatchObject({ caseReference: 'M 12 crown', station: 'sill' });
    id = pattern?.id ?? '';
    expect(new URL(page.url()).pathname).toBe(`/p/${id}`);
  });
  it('has a label whose code shows only in print', async () => {
    expect(await page.locator('.label').isVisible()).toBe(false);
    await page.emulateMedia({ media: 'print' });
    // The code is drawn once its part of the page is there.
    await page.locator('.label svg').waitFor();
    expect(await page.locator('.work-acts').isVisible()).toBe(false);
    await page.emulateMedia({ media: 'screen' });
    expect(await axeFaults(page)).toEqual([]);
  });
  it('is moved with one tap', async () => {
    await press('Cool drawer');
    await page.getByRole('button', { name: 'Cool drawer', pressed: true }).waitFor();
    const { stays } = await ask<PatternView>(`/api/patterns/${id}`);
    expect(stays.map(({ station }) => station)).toEqual(['sill', 'drawer']);
  });
  it('is ended with a reason, and the end can be undone', async () => {
    await press('Remade');
    await page.getByLabel('Reason').fill('margin lifted');
    await press('Record it');
    await page.getByText(/remade.*margin lifted/).waitFor();
    expect(await ask<PatternView[]>('/api/patterns')).toEqual([]);
    await press('Undo: it is still waiting');
    await page.getByRole('button', { name: 'Record it' }).waitFor();
    expect(await ask<PatternView>(`/api/patterns/${id}`)).toMatchObject({ fate: null, station: 'drawer' });
  });
});

describe('work at a pot', () => {
  it('fills the pot with a fresh charge', async () => {
    await page.goto(`${labProcess.address}/s/big-pot`);
    await page.getByLabel('Grams', { exact: true }).fill('100');
    await press('Fill with fresh wax');
    await page.getByRole('button', { name: 'Top up' }).waitFor();
    expect(await charges()).toMatchObject([{ grams: 100, endedAt: null }]);
    expect(await axeFaults(page)).toEqual([]);
  });
  it('is listed as waiting while there is no network, and is sent once when it is back', async () => {
    await context.setOffline(true);
    await page.getByLabel('Grams of fresh wax').fill('20');
    await press('Top up');
    await page.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
    await context.setOffline(false);
    await page.getByRole('heading', { name: /Waiting to be sent/ }).waitFor({ state: 'detached' });
    expect((await charges())[0]?.topUps.map(({ fraction }) => fraction)).toEqual([0.2]);
  });
  it('is not recorded twice when only the answer was lost', async () => {
    let lost = 0;
    await page.route('**/top-up', async (route) => {
      lost += 1;
      if (lost > 1) return route.continue();
      await route.fetch();
      return route.abort('connectionreset');
    });
    await page.getByLabel('Grams of fresh wax').fill('10');
    await press('Top up');
    await page.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
    // It is sent again every ten seconds.
    await page
      .getByRole('heading', { name: /Waiting to be sent/ })
      .waitFor({ state: 'detached', timeout: 30_000 });
    expect(lost).toBe(2);
    expect((await charges())[0]?.topUps.map(({ fraction }) => fraction)).toEqual([0.2, 0.1]);
    await page.unroute('**/top-up');
  });
  it('is undone with one tap, newest first, until the previous charge continues', async () => {
    const [{ id } = { id: '' }] = await charges();
    await page.getByText(/^Topped up .*10\s?% fresh wax/).waitFor();
    await press('Undo');
    await page.getByText(/^Topped up .*20\s?% fresh wax/).waitFor();
    expect((await charges())[0]?.topUps.map(({ fraction }) => fraction)).toEqual([0.2]);
    await page.getByLabel('Grams', { exact: true }).fill('90');
    await press('Fill with fresh wax');
    await page.getByText(/^Changed .*the previous charge then continues/).waitFor();
    expect(await charges()).toMatchObject([{ grams: 90, endedAt: null }, { id }]);
    expect(await axeFaults(page)).toEqual([]);
    await press('Undo');
    await page.getByText(/^Topped up .*20\s?% fresh wax/).waitFor();
    expect(await charges()).toMatchObject([
      { grams: 90, takenBack: { reason: 'entered by mistake' } },
      { id, endedAt: null },
    ]);
    await page.goto(`${labProcess.address}/charges`);
    await page.getByText(/^undone by/).waitFor();
    expect(await axeFaults(page)).toEqual([]);
  });
  it('records a load put into the annealer and taken out', async () => {
    await page.goto(`${labProcess.address}/s/oven`);
    await page.getByLabel('Load').fill('sticks');
    await press('Put load in');
    await page.getByText('Saved.').waitFor();
    await press('Take load out');
    await page.getByText('Saved.').waitFor();
    expect(await axeFaults(page)).toEqual([]);
  });
  it.each(['/patterns', '/charges', '/fit-budget', '/phone'])(
    '%s passes axe in both themes',
    async (path) => {
      for (const colorScheme of ['dark', 'light'] as const) {
        await page.emulateMedia({ colorScheme });
        await page.goto(labProcess.address + path);
        await page.getByRole('heading', { level: 1 }).waitFor();
        expect(await axeFaults(page), colorScheme).toEqual([]);
      }
    },
  );
});
