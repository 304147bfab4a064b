// Figures as a reader sees and types them: in Fahrenheit what is kept in Celsius, in German what is written in English.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
beforeEach(async () => {
  screens = await openScreens();
  await fillLab(screens, 2);
});
afterEach(async () => {
  await closeContexts(browser);
  await screens.close();
});

const openPage = async (path: string, locale: string, cookie?: string): Promise<Page> => {
  const page = await openPageFor(browser, screens.address, cookie ?? '', { locale });
  await page.goto(screens.address + path);
  return page;
};
const openAsManager = async (path: string, locale: string): Promise<Page> =>
  openPage(path, locale, (await screens.manager()).cookie);
const rulesOfPot = () => screens.lab.running.lab().stations.find(({ id }) => id === 'pot-1')?.rules;

describe('the settings of a rule', () => {
  it('typed in Fahrenheit are stored in Celsius and shown as typed, temperatures and differences alike', async () => {
    const page = await openAsManager('/set-up/rules?station=pot-1', 'en-US');
    await page.getByLabel('Rule').selectOption('fire-risk');
    const limit = page.getByLabel('Switch off from here (°F)');
    const deadband = page.getByLabel(/^Deadband.*\(°F\)$/);
    await limit.fill('255');
    await deadband.fill('4.5');
    await page.getByLabel('Reason').fill('As the maker says');
    await page.getByRole('button', { name: 'Save these settings' }).click();
    await page.getByText('The settings are saved.').waitFor();
    const stored = rulesOfPot()?.['fire-risk'] ?? {};
    expect(stored.limit_celsius).toBeCloseTo(123.8889, 4);
    expect(stored.deadband_celsius_difference).toBe(2.5);
    await page.reload();
    await page.getByLabel('Rule').selectOption('fire-risk');
    await expect.poll(() => limit.inputValue()).toBe('255');
    expect(await deadband.inputValue()).toBe('4.5');
  });

  it('show a rate per hour in Fahrenheit', async () => {
    const page = await openAsManager('/set-up/rules?station=shelf-1', 'en-US');
    await page.getByLabel('Rule').selectOption('storage-rate');
    await page.getByLabel('Faster than this (°F per hour)').fill('9');
    await page.getByLabel('Reason').fill('A calm room');
    await page.getByRole('button', { name: 'Save these settings' }).click();
    await page.getByText('The settings are saved.').waitFor();
    const shelf = screens.lab.running.lab().stations.find(({ id }) => id === 'shelf-1');
    expect(shelf?.rules?.['storage-rate']).toMatchObject({ limit_celsius_per_hour: 5 });
  });

  it('are named in German for a German reader, with what the rule detects and the source of each', async () => {
    const page = await openAsManager('/set-up/rules?station=pot-1', 'de-DE');
    await page.getByLabel('Regel').selectOption('fire-risk');
    await page.getByLabel('Ab hier ausschalten (°C)').waitFor();
    await page.getByText(/Ein Heizgerät, das heißer ist, als irgendein Dentalwachs es braucht/).waitFor();
    await page.getByText(/gängige Praxis: Alarmstufen 120, 150, 175\s°C/).waitFor();
    expect(await page.locator('main').textContent()).not.toMatch(/\b(?:must|the|this|usual|practice)\b/);
  });
});

describe('what is refused', () => {
  it('is worded in the language and the unit of the screen, whatever whoever signed in reads elsewhere', async () => {
    const { cookie } = await screens.manager();
    const { repository } = screens.lab.running;
    for (const person of repository.lab().people) repository.savePerson({ ...person, language: 'en' });
    const page = await openPage('/set-up/waxes', 'de-DE', cookie);
    await page.getByLabel('Wert, °C').fill('9999');
    await page.getByRole('button', { name: 'Speichern' }).click();
    await page
      .getByText(/^Höchsttemperatur: Der Wert muss zwischen \d+,0\s°C und \d+,0\s°C liegen\./)
      .waitFor();
    const headers = { 'accept-language': 'de-DE' };
    const refused = await page.request.get(`${screens.address}/api/patterns/NONE1`, { headers });
    expect(await refused.json()).toMatchObject({
      detail: expect.stringContaining('Es gibt keine Wachsmodellation'),
    });
  });
});

describe('the fit budget', () => {
  it('gives the same balance for temperatures in Fahrenheit as in Celsius', async () => {
    const balance = async (locale: string, formed: string, invested: string) => {
      const page = await openPage('/fit-budget', locale);
      const mark = locale === 'en-US' ? '°F' : '°C';
      await page.getByLabel(`Wax formed at, ${mark}`).fill(formed);
      await page.getByLabel(`Invested at, ${mark}`).fill(invested);
      expect(await page.getByLabel(`Wax formed at, ${mark}`).inputValue()).toBe(formed);
      await page.getByText(`from ${formed}.0 ${mark} to ${invested}.0 ${mark}`).waitFor();
      return page.getByText(/^Balance/).textContent();
    };
    const inCelsius = await balance('en-GB', '60', '25');
    expect(await balance('en-US', '140', '77')).toBe(inCelsius);
    expect(inCelsius).toMatch(/%/);
  });

  it('demands a missing value in the language of the reader', async () => {
    const page = await openPage('/fit-budget', 'de-DE');
    await page.getByLabel(/^Wachs geformt bei, °C$/).fill('');
    await page.getByText('Beide Temperaturen eingeben.').waitFor();
  });
});
