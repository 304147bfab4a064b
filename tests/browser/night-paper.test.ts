// The night sheet as the manager has it on paper and by e-mail: one page for a usual night, whole lines on the next
// page for a long one, and the post set up from the sheet itself.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { NightDeliveryView } from '../../dashboard/api/night-delivery.ts';
import type { Browser as Client } from '../server-for-tests.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, fillRecords, openScreens } from './built-screens.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let manager: Client;
beforeEach(async () => {
  screens = await openScreens();
  manager = await screens.manager();
});
afterEach(async () => {
  await closeContexts(browser);
  await screens.close();
});

const openNight = async (bypassCSP = false): Promise<Page> => {
  const page = await openPageFor(browser, screens.address, manager.cookie, { locale: 'en-GB', bypassCSP });
  await page.goto(`${screens.address}/night`);
  await page.getByRole('heading', { name: /^Night ending/ }).waitFor();
  return page;
};

describe('the printed night sheet', () => {
  const ALARMS = ['over-ceiling', 'left-on', 'heat-dose-high', 'storage-swing', 'pattern-due'] as const;
  const usualNight = async (patterns: number): Promise<void> => {
    const { lab } = screens;
    await fillLab(screens, 6);
    lab.pass(10 * 3600);
    for (const rule of ALARMS) {
      const { id } = lab.raise(rule, 'pot-1');
      lab.step(id, {
        type: 'act',
        at: lab.running.now(),
        act: { type: 'acknowledge', alarm: id, by: 'Anton Reuss' },
      });
    }
    lab.pass(14 * 3600);
    await fillRecords(screens);
    const [model] = lab.running.lab().patterns;
    if (model === undefined) throw new Error('there is no pattern to go by');
    for (let index = 1; index < patterns; index += 1)
      lab.running.repository.savePattern({
        ...model,
        id: `N${index}`,
        caseReference: `Case ${index} bridge`,
      });
  };
  const pagesOn = async (page: Page, format: 'A4' | 'Letter'): Promise<number> =>
    [...(await page.pdf({ format })).toString('latin1').matchAll(/\/Type\s*\/Page\b/g)].length;

  it.each(['A4', 'Letter'] as const)('is one page of %s after a usual night', async (format) => {
    await usualNight(4);
    const page = await openNight();
    expect(await page.locator('.sheet-alarms li').count()).toBe(ALARMS.length);
    expect(
      await page
        .locator('tr')
        .filter({ hasText: /^N\d|^K7Q2/ })
        .count(),
    ).toBe(4);
    expect(await pagesOn(page, format)).toBe(1);
  });

  it('is offered for signature to nobody who has signed these figures', async () => {
    await fillLab(screens, 2);
    const page = await openNight();
    const sign = page.getByRole('button', { name: 'Sign these figures' });
    await sign.click();
    await sign.waitFor({ state: 'detached' });
    await page.locator('li', { hasText: /^Mara, / }).waitFor();
    const tom = await screens.person(manager, 'manager', 'Tom');
    const other = await openPageFor(browser, screens.address, tom.cookie, { locale: 'en-GB' });
    await other.goto(page.url());
    await other.getByRole('button', { name: 'Sign these figures' }).waitFor();
  });

  it('continues on a second page after an eventful night and repeats the heads of its tables', async () => {
    await usualNight(60);
    const page = await openNight();
    expect(await pagesOn(page, 'A4')).toBeGreaterThan(1);
    await page.emulateMedia({ media: 'print' });
    const heads = await page.evaluate(
      "[...document.querySelectorAll('thead')].map((head) => getComputedStyle(head).display)",
    );
    expect(new Set(heads as readonly string[])).toEqual(new Set(['table-header-group']));
  });
});

describe('the e-mailed night sheet', () => {
  const post = async (): Promise<NightDeliveryView> =>
    (await manager.send('GET', '/api/night-delivery')).json();

  beforeEach(async () => {
    await fillLab(screens, 2);
    await fillRecords(screens);
  });

  it('cannot be set up until somebody has an e-mail address', async () => {
    const page = await openNight(true);
    await page.getByText('E-mail this sheet').click();
    await page.getByText(/^Nobody in the lab has/).waitFor();
    const { repository, lab } = screens.lab.running;
    for (const person of lab().people) repository.savePerson({ ...person, email: 'mara@lab.example' });
    await page.reload();
    await page.getByText('E-mail this sheet').click();
    await page.getByLabel('When').selectOption({ index: 2 });
    await page.getByRole('textbox', { name: 'Time' }).fill('07:15');
    await page.getByLabel('Mara (mara@lab.example)').check();
    await page.getByLabel('Paper').selectOption('letter');
    expect(await axeFaults(page)).toEqual([]);
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('Saved.').waitFor();
    const [mara] = screens.lab.running.lab().people;
    expect(await post()).toMatchObject({ time: '07:15', recipients: [mara?.id], paper: 'letter' });
    await page.reload();
    await page.getByText('E-mail this sheet').click();
    await expect.poll(() => page.getByRole('textbox', { name: 'Time' }).inputValue()).toBe('07:15');
    expect(await page.getByLabel('Mara (mara@lab.example)').isChecked()).toBe(true);
  });

  it('is not offered to a person who may not manage people', async () => {
    manager = await screens.person(manager, 'technician', 'Tom');
    const page = await openNight();
    await page.getByRole('heading', { name: 'Notes' }).waitFor();
    expect(await page.getByText('E-mail this sheet').count()).toBe(0);
  });
});
