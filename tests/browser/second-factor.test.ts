// The second factor as a person has it: set up at the desk, asked for on a phone, in both languages.

import { Secret, TOTP } from 'otpauth';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { PASSWORDS } from '../server-for-tests.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';

const PHONE = { width: 390, height: 844 };

const browser = await sharedBrowser();

describe('the second factor on the screens', () => {
  let screens: BuiltScreens;
  let secret: string;
  let recovery: string;
  let cookie: string;
  const codeNow = () =>
    new TOTP({ secret: Secret.fromBase32(secret) }).generate({ timestamp: screens.lab.running.now() });
  /** No line wider than the phone. */
  const fitsPhone = (page: Page) =>
    page.evaluate<boolean>('document.documentElement.scrollWidth <= document.documentElement.clientWidth');
  beforeAll(async () => {
    screens = await openScreens({ demo: false });
    ({ cookie } = await screens.manager());
  });
  afterAll(async () => {
    await closeContexts(browser);
    await screens?.close();
  });

  it('is set up with the password and the first code of the app, and shows its recovery codes once', async () => {
    const page = await openScreen(browser, screens.address, '/set-up/account', { cookie, bypassCSP: true });
    const heading = page.getByRole('heading', { name: 'Second factor' });
    const section = page.locator('section').filter({ has: heading }).last();
    await section.getByLabel('Current password').fill(PASSWORDS.manager);
    await section.getByRole('button', { name: 'Set up' }).click();
    await section.getByRole('img', { name: 'Picture for the authenticator app' }).waitFor();
    secret = ((await section.locator('pre.secret').textContent()) ?? '').replace(/\s/g, '');
    const address = await section
      .getByRole('link', { name: 'The app is on this device' })
      .getAttribute('href');
    expect(address).toMatch(new RegExp(`^otpauth://totp/.*secret=${secret}`));
    expect(await axeFaults(page)).toEqual([]);
    await section.getByLabel('Code from the authenticator app').fill(codeNow());
    await section.getByRole('button', { name: 'Switch on' }).click();
    await section.getByText('Keep these recovery codes').waitFor();
    const codes = ((await section.locator('pre.secret').textContent()) ?? '').split('\n');
    expect(codes).toHaveLength(10);
    [recovery = ''] = codes;
    await section.getByRole('button', { name: 'I have copied it' }).click();
    await section.getByText('10 recovery codes are left').waitFor();
    expect(await page.getByText(recovery).count()).toBe(0);
    await page.goto(`${screens.address}/set-up/people`);
    await page.getByText('can sign in, with a second factor').waitFor();
    await page.close();
  });

  it.each([
    ['en', 'Name', 'Password', 'Sign in', 'Code from the authenticator app'],
    ['de', 'Name', 'Passwort', 'Anmelden', 'Code aus der Authenticator-App'],
  ])(
    'is asked for on a phone in %s, its field in focus, and lets in',
    async (language, name, password, signIn, code) => {
      screens.lab.pass(30);
      const page = await openPageFor(browser, screens.address, '', {
        viewport: PHONE,
        locale: language,
        bypassCSP: true,
      });
      await page.goto(`${screens.address}/sign-in`);
      await page.getByLabel(name, { exact: true }).fill('Mara');
      await page.getByLabel(password, { exact: true }).fill(PASSWORDS.manager);
      await page.getByRole('button', { name: signIn, exact: true }).click();
      const field = page.getByLabel(code);
      await field.waitFor();
      expect(await page.locator('input:focus').getAttribute('id')).toBe(await field.getAttribute('id'));
      expect([await fitsPhone(page), await axeFaults(page)]).toEqual([true, []]);
      await field.fill('000000');
      await page.getByRole('button', { name: signIn, exact: true }).click();
      await page
        .getByRole('alert')
        .filter({ hasText: language === 'de' ? 'falsch' : 'wrong' })
        .waitFor();
      await field.fill(language === 'de' ? recovery : codeNow());
      await page.getByRole('button', { name: signIn, exact: true }).click();
      await page.waitForURL((url) => url.pathname !== '/sign-in');
      await page.close();
    },
  );
});
