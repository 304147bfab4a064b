// Alarms that are over: how far it went and how long, and several that are reset by one act, each recorded by itself.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Alarm } from '../../alerts/watch/life/alarm.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';
import { openScreen } from './open-screen.ts';

const browser = await sharedBrowser();
let screens: BuiltScreens;
let page: Page;

const PHONE = { width: 390, height: 844 };

const end = (alarm: Alarm): void =>
  screens.lab.step(alarm.id, { type: 'ends', at: screens.lab.running.now() });
const acknowledge = (alarm: Alarm): void =>
  screens.lab.step(alarm.id, {
    type: 'act',
    at: screens.lab.running.now(),
    act: { type: 'acknowledge', alarm: alarm.id, by: 'Tom' },
  });
/** Over the ceiling and back within the hour. */
const pass = (station: string): Alarm => {
  const alarm = screens.lab.raise('over-ceiling', station);
  screens.lab.pass(52 * 60);
  return alarm;
};

beforeEach(async () => {
  screens = await openScreens();
  await fillLab(screens, 6);
});
afterEach(async () => {
  await closeContexts(browser);
  await screens?.close();
});

const open = async (path: string): Promise<void> => {
  page = await openScreen(browser, screens.address, path, {
    cookie: (await screens.manager()).cookie,
    bypassCSP: true,
  });
};

describe('the card of an alarm that is over', () => {
  it('shows the highest reading, its time and how long it was so', async () => {
    const { store, now } = screens.lab.running;
    const began = now();
    end(pass('pot-1'));
    const readings = [98, 102.5, 103.4, 99.1].map((value, index) => ({
      probe: 'pot-1-a',
      at: epochMillis(began + index * 10 * 60_000),
      celsius: celsius(value),
      quality: 'good' as const,
    }));
    await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
    await open('/alarms');
    const card = page.locator('.alarm', { hasText: 'Melt pot 1' });
    await card.getByText('Lasted 52 min. Highest reading 103.4 °C, 09:20.').waitFor();
  });
  it('shows what the alarm said where no reading is left', async () => {
    end(pass('pot-1'));
    await open('/alarms');
    const card = page.locator('.alarm', { hasText: 'Melt pot 1' });
    await card.getByText('Lasted 52 min. What happened: over-ceiling').waitFor();
  });
});

describe('alarms of one rule that are acknowledged and over', () => {
  const stations = ['pot-1', 'place-2', 'place-3'];
  const boxes = () => page.locator('.act-list .past-alarms').getByRole('checkbox');

  let first: Alarm;

  beforeEach(async () => {
    for (const station of stations) {
      const alarm = pass(station);
      if (station === 'pot-1') first = alarm;
      acknowledge(alarm);
      end(alarm);
    }
    await open('/alarms');
  });

  it('are reset together once they are ticked and the act is confirmed, each with the name', async () => {
    await page.getByRole('heading', { name: 'Acknowledged and over, to be reset' }).waitFor();
    expect(await boxes().count()).toBe(3);
    expect(await page.getByRole('button', { name: 'Reset those ticked' }).isDisabled()).toBe(true);
    await boxes().nth(0).check();
    await boxes().nth(2).check();
    await page.getByRole('button', { name: 'Reset 2 alarms' }).click();
    expect(screens.lab.acts.filter(({ type }) => type === 'reset')).toEqual([]);
    await page.getByText('Reset these 2 alarms? Each is recorded with your name, Mara').waitFor();
    await page.getByRole('button', { name: 'Reset 2 alarms' }).click();
    await page.getByText('Tick all 1').waitFor();
    const resets = screens.lab.acts.filter(({ type }) => type === 'reset');
    expect(resets.map(({ by }) => by)).toEqual(['Mara', 'Mara']);
    expect(new Set(resets.map((act) => 'alarm' in act && act.alarm)).size).toBe(2);
    await page.goto(`${screens.address}/set-up/audit`);
    await page.getByRole('row', { name: 'Mara manager' }).first().waitFor();
    expect(await page.getByRole('row', { name: /: Over ceiling, / }).count()).toBe(2);
  });
  it('stay as they are when the act is not confirmed', async () => {
    await page.getByLabel('Tick all 3').check();
    await page.getByRole('button', { name: 'Reset 3 alarms' }).click();
    await page.getByRole('button', { name: 'Cancel' }).click();
    expect(await boxes().count()).toBe(3);
    expect(screens.lab.acts.filter(({ type }) => type === 'reset')).toEqual([]);
  });
  it('leave out the one that is raised again before the act is confirmed', async () => {
    await page.getByLabel('Tick all 3').check();
    await page.getByRole('button', { name: 'Reset 3 alarms' }).click();
    const at = screens.lab.running.now();
    screens.lab.step(first.id, { type: 'begins', at, tense: 'now', evidence: {} });
    await page.locator('.alarm[data-attention="unacknowledged"]', { hasText: 'Melt pot 1' }).waitFor();
    await page.getByRole('button', { name: 'Reset 2 alarms' }).click();
    await page.locator('.act-list').waitFor({ state: 'detached' });
    expect(screens.lab.acts.filter(({ type }) => type === 'reset')).toHaveLength(2);
  });
  it('pass axe and fit a phone', async () => {
    await page.getByLabel('Tick all 3').check();
    await page.getByRole('button', { name: 'Reset 3 alarms' }).click();
    await page.setViewportSize(PHONE);
    expect(await axeFaults(page)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);
  });
});

describe('alarms of one rule that are over and not acknowledged', () => {
  const boxes = () => page.locator('.act-list .past-alarms').getByRole('checkbox');
  const acknowledged = () => screens.lab.acts.filter(({ type }) => type === 'acknowledge');
  const passAt = (stations: readonly string[]): void => {
    for (const station of stations) end(pass(station));
  };

  it('are a card each while they are two', async () => {
    passAt(['pot-1', 'place-2']);
    await open('/alarms');
    await page.getByRole('button', { name: 'Acknowledge', exact: true }).nth(1).waitFor();
    expect(await page.locator('.act-list').count()).toBe(0);
  });
  it('are acknowledged together by keyboard alone, each with the name, under the caution of hot wax', async () => {
    passAt(['pot-1', 'place-2', 'place-3']);
    await open('/alarms');
    await page.getByRole('heading', { name: 'Over, not yet acknowledged' }).waitFor();
    expect(await page.locator('.act-list .caution').count()).toBe(1);
    expect(await boxes().count()).toBe(3);
    await boxes().nth(0).focus();
    await page.keyboard.press('Space');
    await boxes().nth(1).focus();
    await page.keyboard.press('Space');
    await page.getByRole('button', { name: 'Acknowledge 2 alarms' }).focus();
    await page.keyboard.press('Enter');
    await page.getByText('Acknowledge these 2 alarms? Each is recorded with your name, Mara').waitFor();
    expect(acknowledged()).toEqual([]);
    await page.getByRole('button', { name: 'Acknowledge 2 alarms' }).focus();
    await page.keyboard.press('Enter');
    await page.getByText('Tick all 1', { exact: true }).waitFor();
    expect(acknowledged().map(({ by }) => by)).toEqual(['Mara', 'Mara']);
    expect(await axeFaults(page)).toEqual([]);
  });
  it('are listed on the phone, apart from an alarm that is so now', async () => {
    passAt(['pot-1', 'place-2', 'place-3']);
    screens.lab.raise('over-ceiling', 'place-4');
    await open('/phone');
    await page.setViewportSize(PHONE);
    expect(await boxes().count()).toBe(3);
    expect(await page.locator('.phone-alarm-list > *').count()).toBe(1);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(PHONE.width);
  });
});
