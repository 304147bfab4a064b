// Whoever saves after the session is over signs in within the form, and nothing that was typed is lost.

import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PASSWORDS, type Browser as Visitor } from '../server-for-tests.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let mara: Visitor;

beforeAll(async () => {
  screens = await openScreens({ demo: false });
  mara = await screens.manager();
});
afterAll(async () => {
  await closeContexts(browser);
  await screens?.close();
});

describe('a form that is saved after the session is over', () => {
  it('asks for name and password in its midst, by keyboard alone, and then saves what was typed', async () => {
    const page = await openScreen(browser, screens.address, '/set-up/site', {
      cookie: mara.cookie,
      bypassCSP: true,
    });
    const name = page.getByLabel('Name of the lab');
    await name.fill('Quay Laboratory');
    await mara.send('DELETE', '/api/session');
    await name.press('Enter');
    const asked = page.getByRole('group', { name: 'Your session is over' });
    await asked.waitFor();
    expect(await asked.getByLabel('Name', { exact: true }).inputValue()).toBe('Mara');
    expect(await axeFaults(page)).toEqual([]);
    const password = asked.getByLabel('Password', { exact: true });
    await password.fill('not this one');
    await password.press('Enter');
    await asked.getByText('wrong', { exact: false }).waitFor();
    expect(await name.inputValue()).toBe('Quay Laboratory');
    expect(screens.lab.running.lab().site.name).toBe('Test lab');
    await password.fill(PASSWORDS.manager);
    await password.press('Enter');
    await asked.waitFor({ state: 'detached' });
    await page.getByText('Saved.').first().waitFor();
    expect(screens.lab.running.lab().site.name).toBe('Quay Laboratory');
    await page.close();
  });
});

describe('the page of signing in', () => {
  it('names whoever is signed in already, and lets them out', async () => {
    const page = await openScreen(browser, screens.address, '/sign-in', {
      cookie: (await signedIn()).cookie,
    });
    await page.getByText('Current user: Mara').waitFor();
    await page.getByRole('button', { name: 'Sign out' }).click();
    await page.getByLabel('Password', { exact: true }).waitFor();
    await page.close();
  });
});

const signedIn = async (): Promise<Visitor> => {
  const visitor = screens.browser();
  await visitor.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
  return visitor;
};
