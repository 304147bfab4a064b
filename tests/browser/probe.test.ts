// The page of one probe in a real Chromium: a manager enters what its sensor is, replaces it when it is broken, takes that
// back, retires and forgets it; the station's chart shows the broken probe beside the new one.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;
let mara: Awaited<ReturnType<BuiltScreens['manager']>>;

const described = (id: string) => screens.lab.running.lab().probes.find((probe) => probe.id === id);
const button = (name: string) => page.getByRole('button', { name, exact: true });

beforeAll(async () => {
  screens = await openScreens({ demo: false });
  await fillRecords(screens);
  await screens.lab.measure('spare', 21);
  mara = await screens.manager();
  page = await openPageFor(browser, screens.address, mara.cookie, {
    viewport: { width: 1280, height: 900 },
    locale: 'en-GB',
  });
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

it('the page of a probe shows how it behaved, where it was and what its newest reading was', async () => {
  await page.goto(`${screens.address}/probes`);
  await page.getByRole('link', { name: 'pot-1-a' }).click();
  await page.getByRole('heading', { level: 1, name: 'pot-1-a' }).waitFor();
  await page.getByText('from its first reading to now').waitFor();
  await page.getByText('The probe sent degrees itself.').waitFor();
  await page.locator('dd', { hasText: /^1439$/ }).waitFor();
});

it('the sensor of a probe is described, refused where it contradicts itself, and saved', async () => {
  await button('Sensor…').click();
  await page.getByLabel('Sensor', { exact: true }).selectOption({ label: 'thermocouple' });
  await button('Save').click();
  await page.getByText(/cold_junction_celsius/).waitFor();
  await page.getByLabel('Sensor', { exact: true }).selectOption({ label: 'platinum (resistance)' });
  await page.getByLabel('Tolerance class of the maker').selectOption('platinum-A');
  await button('Save').click();
  await page.getByText('The sensor is saved.').waitFor();
  expect(described('pot-1-a')?.sensor).toEqual({
    kind: 'platinum',
    element: 'pt100',
    wires: 3,
    tolerance: 'platinum-A',
  });
  await button('Undo').click();
  await expect.poll(() => described('pot-1-a')?.sensor).toBeUndefined();
});

it('a battery in volts is not judged until the limit of its data sheet is entered, and that can be undone', async () => {
  const volts = { battery_percent: null, battery_volts: 2.85, battery_low_volts: null, signal_dbm: null };
  screens.lab.reportStatus('pot-1-a', { at: screens.lab.running.now(), ...volts, isBatteryLow: false });
  await page.reload();
  await page.getByText('Battery: 2.85 V').waitFor();
  await page.getByText('The voltage is not judged: no limit is set.').waitFor();
  await button('Low battery…').click();
  await page.getByLabel('Battery low at, V').fill('2.9');
  await button('Save').click();
  await page.getByText('The limit of the battery was saved.').waitFor();
  expect(described('pot-1-a')).toMatchObject({ battery_low_volts: 2.9, station: 'pot-1' });
  await button('Undo').click();
  await expect.poll(() => described('pot-1-a')?.battery_low_volts).toBeUndefined();
});

it('a sensor is neither saved over what another manager saved meanwhile, nor taken back with it', async () => {
  const tom = await screens.person(mara, 'manager', 'Tom');
  const saveByTom = async (change: object): Promise<void> => {
    const { id: _, gateway: __, ...body } = described('pot-1-a') ?? { id: '', gateway: '' };
    const saved = await tom.send('PUT', '/api/probes/pot-1-a', { ...body, ...change });
    expect(saved.statusCode).toBe(200);
  };
  const refusal = page.getByText(/Tom changed this at .* Nothing was saved/).first();
  await button('Sensor…').click();
  await page.getByLabel('Sensor', { exact: true }).selectOption({ label: 'platinum (resistance)' });
  await saveByTom({ sensor: { kind: 'thermistor', r25_ohms: 10_000, beta_kelvin: 3950 } });
  await button('Save').click();
  await refusal.waitFor();
  expect(described('pot-1-a')?.sensor).toMatchObject({ kind: 'thermistor' });
  await page.reload();
  await button('Low battery…').click();
  await page.getByLabel('Battery low at, V').fill('2.9');
  await button('Save').click();
  await page.getByText('The limit of the battery was saved.').waitFor();
  await saveByTom({ battery_low_volts: 2.7 });
  await button('Undo').click();
  await refusal.waitFor();
  expect(described('pot-1-a')).toMatchObject({ battery_low_volts: 2.7 });
  const { sensor: _, battery_low_volts: __, ...before } = described('pot-1-a') ?? { id: '', gateway: '' };
  screens.lab.running.repository.saveProbe(before as NonNullable<ReturnType<typeof described>>);
  await page.reload();
});

it('a broken probe is replaced, and that is taken back', async () => {
  screens.lab.pass(1);
  await page.getByLabel('New probe').selectOption('spare');
  await button('Replace').click();
  await page.getByText('spare takes the place of pot-1-a.').waitFor();
  expect(described('pot-1-a')).toMatchObject({ station: null, retiredOn: '2031-03-03' });
  expect(described('spare')).toMatchObject({ station: 'pot-1' });
  await button('Undo').click();
  await expect.poll(() => described('pot-1-a')).toMatchObject({ station: 'pot-1' });
  expect(described('spare')?.station).toBeNull();
});

it('the chart of the station shows the replaced probe for as long as it was there', async () => {
  screens.lab.pass(1);
  await page.getByLabel('New probe').selectOption('spare');
  await button('Replace').click();
  await page.getByText('spare takes the place of pot-1-a.').waitFor();
  await page.goto(`${screens.address}/station/pot-1?span=day`);
  await page.getByRole('rowheader', { name: 'pot-1-a' }).waitFor();
  await page.getByRole('rowheader', { name: 'spare' }).waitFor();
});

it('a probe without a station is used again, retired and forgotten', async () => {
  await page.goto(`${screens.address}/probe/pot-1-a`);
  await button('Use again').click();
  await page.getByText('pot-1-a can be used again.').waitFor();
  expect(described('pot-1-a')?.retiredOn).toBeUndefined();
  await button('Retire').click();
  await page.getByText('pot-1-a is retired.').waitFor();
  await button('Forget').click();
  await page.waitForURL(/\/probes$/);
  expect(described('pot-1-a')).toBeUndefined();
  expect(screens.lab.acts.at(-1)).toMatchObject({ type: 'probes-forgotten', probes: ['pot-1-a'] });
});
