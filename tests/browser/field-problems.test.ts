// What is wrong in a field before a form is sent, in the language of the screen on a browser of another.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;

beforeAll(async () => {
  screens = await openScreens();
  await fillRecords(screens);
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const GERMAN = `localStorage.setItem('waxwarden.settings', '{"language":"de","unit":"celsius","hourCycle":"h23"}')`;

describe('a field of a form on a German screen in an English browser', () => {
  it('names what is wrong in German, and lets the form go once it is right', async () => {
    const { cookie } = await screens.manager();
    const page = await openPageFor(browser, screens.address, cookie, { locale: 'en-GB' });
    await page.addInitScript(GERMAN);
    await page.goto(`${screens.address}/patterns/new`);
    const save = page.getByRole('button', { name: 'Wachsmodellation speichern' });
    const length = page.getByLabel('Maßgebliche Länge, mm', { exact: true });
    const said = () => length.evaluate((field) => (field as HTMLInputElement).validationMessage);
    await page.getByLabel('Auftrag', { exact: true }).fill('K-1');
    await length.fill('');
    await save.click();
    expect(await said()).toBe('Bitte ausfüllen.');
    await length.fill('-5');
    expect(await said()).not.toBe('Bitte ausfüllen.');
    await save.press('Enter');
    expect(await said()).toBe('Mindestens 0.');
    await length.fill('12');
    await save.press('Enter');
    await page.getByRole('heading', { name: 'K-1' }).waitFor();
  });
});
