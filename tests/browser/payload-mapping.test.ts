// A manager connects a device that publishes JSON of its own, in a real Chromium: saves the mapping switched off, tries
// it over what has arrived, corrects it, switches it on, and takes a removal back.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { epochMillis } from '../../wax/units.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;

const mappings = () => screens.lab.running.mappings.all();
const field = (name: string) => page.getByRole('textbox', { name });

beforeAll(async () => {
  screens = await openScreens({ demo: false });
  const { cookie } = await screens.manager();
  page = await openPageFor(browser, screens.address, cookie, {
    viewport: { width: 1280, height: 900 },
    locale: 'en-GB',
  });
  await page.goto(`${screens.address}/set-up/payload-mappings`);
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

it('a mapping is saved switched off, tried, corrected, switched on, removed and taken back', async () => {
  await page.getByText('No mapping yet.').waitFor();
  await page.getByRole('button', { name: 'Add a mapping' }).click();
  await field('Topic filter').fill('wax/+/x');
  await field('Gateway').fill('loggers');
  await field('Where the value is').fill('/temp');
  await page.getByRole('button', { name: 'Try on the newest messages' }).click();
  await page.getByText(/Begin with a level of its own/).waitFor();
  await field('Topic filter').fill('pots/+/values');
  await page.getByRole('button', { name: 'Try on the newest messages' }).click();
  await page.getByText(/No message of this topic/).waitFor();
  await page.getByRole('button', { name: 'Save, switched off' }).click();
  await page.getByText('off, collects examples').waitFor();
  expect(mappings()).toMatchObject([{ isOn: false, topic: 'pots/+/values' }]);

  const at = epochMillis(Date.now());
  screens.lab.quarantine({
    topic: 'pots/pot-7/values',
    code: 'unknown-topic',
    count: 1,
    firstAt: at,
    lastAt: at,
    sample: new TextEncoder().encode('{"t":61.5}'),
    bytes: 10,
  });
  await page.getByRole('button', { name: 'Change the mapping of pots/+/values' }).click();
  await page.getByRole('button', { name: 'Try on the newest messages' }).click();
  await page.getByText(/has nothing at “\/temp”/).waitFor();
  await field('Where the value is').fill('/t');
  await page.getByRole('button', { name: 'Try on the newest messages' }).click();
  await page.getByText(/pot-7: 61\.5/).waitFor();
  await page.getByRole('button', { name: 'Save and take readings' }).click();
  await page.getByText('takes readings', { exact: true }).waitFor();
  expect(mappings()).toMatchObject([{ isOn: true, value: '/t' }]);

  await page.getByRole('button', { name: 'Remove the mapping of pots/+/values' }).click();
  await page.getByText('No mapping yet.').waitFor();
  await page.getByRole('button', { name: /undo|take back/i }).click();
  await page.getByRole('button', { name: /undo|take back/i }).waitFor({ state: 'detached' });
  expect(mappings()).toHaveLength(1);
});
