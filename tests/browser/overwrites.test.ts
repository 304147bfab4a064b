// A form that stays as it was opened while something is saved elsewhere: what it sends is refused, with who it was.

import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Browser as Visitor } from '../server-for-tests.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';
import { until } from '../integration/until.ts';

const MAIL = { host: 'mail.tom.example', port: 25, security: 'none', user: '', from: 'wax@lab.example' };
const LINK = {
  isOn: false,
  url: 'mqtts://tom.example:8883',
  user: '',
  authority: '',
  detail: 'minutes',
  givesCaseReferences: false,
  givesNames: false,
};

const browser = await sharedBrowser();

describe('a form that was opened before somebody else saved', () => {
  let screens: BuiltScreens;
  let mara: Visitor;
  let tom: Visitor;
  beforeAll(async () => {
    screens = await openScreens({ demo: false });
    mara = await screens.manager();
    tom = await screens.person(mara, 'manager', 'Tom');
  });
  afterAll(async () => {
    await closeContexts(browser);
    await screens?.close();
  });

  const fillMail = async (page: Page) => {
    await page.getByLabel('Server', { exact: true }).fill('mail.mara.example');
    await page.getByLabel('Sender', { exact: true }).fill('wax@lab.example');
  };
  const fillLink = (page: Page) =>
    page.getByLabel('Broker of the group', { exact: true }).fill('mqtts://mara.example:8883');

  it.each([
    ['the mail server', '/set-up/connections', '/api/connections', '/mail', MAIL, fillMail],
    ['the link to the group', '/set-up/group', '/api/group-link', '', LINK, fillLink],
  ])(
    'of %s is refused with who it was, keeps what was typed, and sends once it shows what was saved',
    async (_, path, read, place, body, fill) => {
      const page = await openScreen(browser, screens.address, path, { cookie: mara.cookie });
      await fill(page);
      expect((await tom.send('PUT', read + place, body)).statusCode).toBe(200);
      const stored = (await tom.send('GET', read)).json();
      const submit = page.locator('form').first().locator('button[type=submit]');
      await submit.click();
      await page.getByRole('alert').filter({ hasText: 'Tom changed this' }).first().waitFor();
      expect((await tom.send('GET', read)).json()).toEqual(stored);
      const typed = page.locator('form').first().locator('input').first();
      expect(await typed.inputValue()).toContain('mara.example');
      await page.getByRole('button', { name: 'Show what is saved now' }).click();
      await expect.poll(() => typed.inputValue()).toContain('tom.example');
      await fill(page);
      await submit.click();
      await until(async () => (await tom.send('GET', read)).body.includes('mara.example'));
      await page.close();
    },
  );

  it('of the e-mailed night sheet is refused, keeps what was chosen, and sends once it shows what was saved', async () => {
    const page = await openScreen(browser, screens.address, '/night', { cookie: mara.cookie });
    await page.locator('.night-mail summary').click();
    const when = page.locator('.night-mail select').first();
    const save = page.locator('.night-mail button[type=submit]');
    await when.selectOption('opening');
    const theirs = { time: '07:00', recipients: [], paper: 'a4' };
    expect((await tom.send('PUT', '/api/night-delivery', theirs)).statusCode).toBe(200);
    await save.click();
    await page.getByRole('alert').filter({ hasText: 'Tom changed this' }).first().waitFor();
    expect(await when.inputValue()).toBe('opening');
    await page.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => when.inputValue()).toBe('set');
    await when.selectOption('opening');
    await save.click();
    await until(async () => (await tom.send('GET', '/api/night-delivery')).json().time === 'opening');
    await page.close();
  });

  it('of the lab keeps what was typed, and after a save follows what is saved and undone', async () => {
    const page = await openScreen(browser, screens.address, '/set-up/site', { cookie: mara.cookie });
    const name = page.getByLabel('Name of the lab', { exact: true });
    const { id: _, ...site } = (await tom.send('GET', '/api/lab')).json().site;
    const savedName = async () => (await tom.send('GET', '/api/lab')).json().site.name;
    const saveByTom = (changed: string) => tom.send('PUT', '/api/site', { ...site, name: changed });
    await saveByTom('Lab before anybody typed');
    await expect.poll(() => name.inputValue()).toBe('Lab before anybody typed');
    await name.fill('Lab of Mara');
    await saveByTom('Lab of Tom');
    await page.locator('form button[type=submit]').click();
    await page.getByRole('alert').filter({ hasText: 'Tom changed this' }).first().waitFor();
    expect(await name.inputValue()).toBe('Lab of Mara');
    await page.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => name.inputValue()).toBe('Lab of Tom');
    await name.fill('Lab of Mara');
    await page.locator('form button[type=submit]').click();
    await until(async () => (await savedName()) === 'Lab of Mara');
    await page.getByRole('button', { name: 'Undo', exact: true }).click();
    await expect.poll(() => name.inputValue()).toBe('Lab of Tom');
    expect(await savedName()).toBe('Lab of Tom');
    await page.close();
  });

  it('of a station is refused, keeps what was typed, and sends once it shows what was saved', async () => {
    const page = await openScreen(browser, screens.address, '/set-up/stations', { cookie: mara.cookie });
    const { stations } = (await tom.send('GET', '/api/lab')).json();
    const { id, ...station } = stations[0];
    await page.getByRole('button', { name: `Change ${station.name}`, exact: true }).click();
    const name = page.locator('form input').first();
    await name.fill('Pot of Mara');
    await tom.send('PUT', `/api/stations/${id}`, { ...station, name: 'Pot of Tom' });
    await page.locator('form button[type=submit]').click();
    await page.getByRole('button', { name: 'Show what is saved now' }).waitFor();
    expect(await name.inputValue()).toBe('Pot of Mara');
    await page.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => name.inputValue()).toBe('Pot of Tom');
    await name.fill('Pot of Mara');
    await page.locator('form button[type=submit]').click();
    await until(async () => (await tom.send('GET', '/api/lab')).json().stations[0].name === 'Pot of Mara');
    await page.close();
  });

  it('of a value of the wax is refused, keeps what was typed, and sends once it shows what was saved', async () => {
    const page = await openScreen(browser, screens.address, '/set-up/waxes', { cookie: mara.cookie });
    const path = '/api/wax-classes/inlay-type-2/overrides';
    const ownCeiling = async () =>
      (await tom.send('GET', '/api/lab')).json().waxOverrides['inlay-type-2'].ceiling;
    const value = page.getByLabel('Value, °C', { exact: true });
    await value.fill('86');
    expect((await tom.send('PUT', path, { values: { ceiling: 87 } })).statusCode).toBe(200);
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await page.getByRole('alert').filter({ hasText: 'Tom changed this' }).first().waitFor();
    expect(await value.inputValue()).toBe('86');
    expect(await ownCeiling()).toBe(87);
    await page.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => value.inputValue()).toBe('');
    await value.fill('86');
    await page.getByRole('button', { name: 'Save', exact: true }).click();
    await until(async () => (await ownCeiling()) === 86);
    await page.close();
  });

  it("of a lot's sheet is refused to another tab of the same person, and an undo in the first tab is not", async () => {
    const pack = { wax: 'inlay-type-2', maker: 'Bench wax', lot: 'X-1', expiresOn: null };
    const { id } = (await mara.send('POST', '/api/lots', pack)).json();
    const ceiling = async () =>
      (await tom.send('GET', '/api/lots')).json().find((lot: { id: string }) => lot.id === id).sheetValues
        .ceiling;
    const [first, second] = [
      await openScreen(browser, screens.address, `/lots/${id}`, { cookie: mara.cookie }),
      await openScreen(browser, screens.address, `/lots/${id}`, { cookie: mara.cookie }),
    ];
    const valueIn = (page: Page) => page.getByLabel('Value, °C', { exact: true });
    const saveIn = (page: Page) => page.getByRole('button', { name: 'Save value', exact: true }).click();
    await valueIn(second).fill('88');
    await valueIn(first).fill('86');
    await saveIn(first);
    await until(async () => (await ceiling()) === 86);
    await saveIn(second);
    await second
      .getByRole('alert')
      .filter({ hasText: 'You changed this in another window' })
      .first()
      .waitFor();
    expect(await valueIn(second).inputValue()).toBe('88');
    expect(await ceiling()).toBe(86);
    await first.getByRole('button', { name: 'Undo', exact: true }).click();
    await until(async () => (await ceiling()) === undefined);
    await second.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => valueIn(second).inputValue()).toBe('');
    await Promise.all([first.close(), second.close()]);
  });

  it('of the notification plan is refused, keeps what was typed, and sends once it shows what was saved', async () => {
    const path = '/set-up/notification-plan';
    const page = await openScreen(browser, screens.address, path, { cookie: mara.cookie });
    const savedPlan = async () => (await tom.send('GET', '/api/notification-plan')).json().plan;
    const minutes = page.getByLabel('Minutes without acknowledgement').nth(1);
    const medium = page.getByLabel('Medium');
    const save = page.locator('form.plan button[type=submit]');
    // The first act on it: a tick must not be lost.
    await medium.check();
    await minutes.fill('15');
    const theirs = { ...(await savedPlan()), outsideHours: ['urgent'] };
    expect((await tom.send('PUT', '/api/notification-plan', theirs)).statusCode).toBe(200);
    await save.click();
    await page.getByRole('alert').filter({ hasText: 'Tom changed this' }).first().waitFor();
    expect(await minutes.inputValue()).toBe('15');
    expect(await savedPlan()).toEqual(theirs);
    await page.getByRole('button', { name: 'Show what is saved now' }).click();
    await expect.poll(() => minutes.inputValue()).toBe(String(theirs.escalation[1].afterMinutes));
    expect(await medium.isChecked()).toBe(false);
    await minutes.fill('15');
    await save.click();
    await until(async () => (await savedPlan()).escalation[1].afterMinutes === 15);
    await page.close();
  });
});
