// From an empty lab to the first live station in the browser alone: no shell, no probe, no file.

import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { ProbeView, StationView } from '../../dashboard/api/schemas.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from '../integration/lab-process.ts';
import { until } from '../integration/until.ts';
import { closeContexts, sharedBrowser } from './browser.ts';

const browser = await sharedBrowser();
let context: BrowserContext;
let page: Page;
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;

const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
const ask = async <T>(path: string): Promise<T> =>
  (await (await context.request.get(labProcess.address + path)).json()) as T;

beforeAll(async () => {
  folder = await temporaryFolder();
  labProcess = await startLabProcess({ data: folder.path, args: ['--port', '0', '--broker', 'embedded:0'] });
  context = await browser.newContext({ viewport: { width: 390, height: 844 }, locale: 'en-GB' });
  page = await context.newPage();
});
afterAll(async () => {
  await labProcess?.stop();
  await closeContexts(browser);
  await folder?.remove();
});

describe('an empty lab without a probe', () => {
  it('gets its first person and its name', async () => {
    await page.goto(labProcess.address);
    const code = await until(() => /with the code (\S+)/.exec(labProcess.printed())?.[1]);
    await page.getByLabel('One-time code').fill(code);
    await page.getByLabel('Name').fill('Nadia Ferrer');
    await page.getByLabel('New password').fill('nine cool drawers of wax');
    await press('Get started');
    await page.getByLabel('Name of the lab').fill('Hill Road Laboratory');
    await press('Continue');
  });

  it('gets a test reading by a button, which goes through the broker like any other', async () => {
    await press('Make a test reading');
    await page.locator('.seen-probe', { hasText: 'test-1' }).getByText('21.5 °C').waitFor();
    const [probe] = await ask<ProbeView[]>('/api/probes');
    expect(probe).toMatchObject({ id: 'test-1', gateway: 'test', celsius: 21.5, claimed: false });
    await press('Continue');
  });

  it('says what a pattern needs as long as there is no storage place', async () => {
    await page.getByRole('heading', { name: 'Its station', exact: true }).waitFor();
    await page.goto(`${labProcess.address}/patterns/new`);
    await page.getByText(/because the lab has no storage place/).waitFor();
    expect(await page.getByLabel('Case reference').count()).toBe(0);
    await page.getByRole('link', { name: 'Add a station', exact: true }).click();
    await page.getByRole('button', { name: 'Add a station', exact: true }).waitFor();
    await page.goBack();
    await page.goBack();
    await page.getByRole('heading', { name: 'Its station', exact: true }).waitFor();
  });

  it('shows its first station live, and warns that a test measures nothing', async () => {
    await page.getByLabel('Name of the station').fill('Pattern shelf');
    await page.getByLabel('Kind').selectOption('shelf');
    await page.getByLabel('Wax', { exact: true }).selectOption('inlay-type-2');
    await press('Continue');
    await page.getByRole('heading', { name: 'The live station', exact: true }).waitFor();
    await page.getByText('test-1 is a test and measures nothing.').waitFor();
    await press('Make a test reading');
    await page.locator('.station-row', { hasText: 'Pattern shelf' }).getByText('21.5 °C').waitFor();
    const [station] = await ask<StationView[]>('/api/stations');
    expect(station).toMatchObject({ name: 'Pattern shelf', celsius: 21.5, probes: ['test-1'] });
  });

  it('leads from there to the phone and to the people', async () => {
    await press('Continue');
    await page.getByRole('heading', { name: 'Your phone', exact: true }).waitFor();
    await press('Continue');
    await page.getByRole('heading', { name: 'People', exact: true }).waitFor();
    await page.getByRole('link', { name: 'Show the wall' }).waitFor();
  });
});
