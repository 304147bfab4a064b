// Screens in a real Chromium: on the wall nothing cut or scrolled, a dead line shown, and everything done by keyboard
// alone.

import type { Page } from 'playwright-core';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { closeContexts, sharedBrowser } from './browser.ts';
import { type BuiltScreens, fillLab, openScreens } from './built-screens.ts';
import { type Opened, openScreen } from './open-screen.ts';

const WALL = { width: 1920, height: 1080 };
const PHONE = { width: 390, height: 844 };

/** Runs in the page: where each station and its lane begin. */
const LANES = `[...document.querySelectorAll('.wall-station')].map((station) => ({
  row: Math.round(station.getBoundingClientRect().top),
  lane: Math.round(station.querySelector('.lane').getBoundingClientRect().top),
}))`;

const browser = await sharedBrowser();
let screens: BuiltScreens;

const openPage = (path: string, opened: Opened = {}): Promise<Page> =>
  openScreen(browser, screens.address, path, opened);

beforeEach(async () => {
  screens = await openScreens();
});
afterEach(async () => {
  await closeContexts(browser);
  await screens.close();
});

describe('the wall', () => {
  it.each([1, 2, 3, 5, 8, 13, 21])(
    'shows %d stations at once, with the lanes of a row at one height',
    async (count) => {
      for (const station of screens.lab.running.lab().stations.slice(count))
        screens.lab.running.repository.removeStation(station.id);
      await fillLab(screens, count);
      const page = await openPage('/wall', { size: WALL });
      await page
        .locator('.wall-station')
        .nth(count - 1)
        .waitFor();
      const lanes = (await page.evaluate(LANES)) as readonly { row: number; lane: number }[];
      expect(lanes).toHaveLength(count);
      const heights = new Map<number, Set<number>>();
      for (const { row, lane } of lanes) heights.set(row, (heights.get(row) ?? new Set()).add(lane));
      for (const ofRow of heights.values()) expect(ofRow.size).toBe(1);
    },
  );

  /** Resolves when the wall has drawn the server's next beat, which the ages of its readings show. */
  const nextBeat = async (page: Page): Promise<void> => {
    screens.lab.pass(30);
    await page
      .locator('.age', { hasText: /(29|30|31)\ss/ })
      .first()
      .waitFor();
  };

  it('announces an alarm before the next heartbeat, in words and as an alert', async () => {
    await fillLab(screens, 4);
    const page = await openPage('/wall', { size: WALL });
    await page.getByText('All in order').waitFor();
    screens.lab.raise('over-ceiling', 'pot-1');
    await nextBeat(page);
    const pot = page.locator('.wall-station', { hasText: 'Melt pot 1' });
    expect(await pot.getByText('Over ceiling').isVisible()).toBe(true);
    expect(await page.locator('footer').getByText('1 unacknowledged alarm').isVisible()).toBe(true);
    await page.getByRole('alert').getByText('Melt pot 1: Over ceiling').waitFor({ state: 'attached' });
  });

  it('reports a lost connection within three seconds, shows no value as live, and recovers by itself', async () => {
    await fillLab(screens, 4);
    const page = await openPage('/wall', { size: WALL, ownClock: true });
    await page.getByText('All in order').waitFor();
    // Just after a beat none is on its way, and the three seconds pass in the page alone, however busy the machine is.
    await nextBeat(page);
    screens.pullCable();
    await page.clock.runFor(3000);
    expect(await page.locator('footer').getByText('Connection lost.').isVisible()).toBe(true);
    expect(await page.locator('.lane-now').first().isVisible()).toBe(false);
    expect(await page.locator('.state').first().textContent()).toContain('was: ');
    expect(
      await page.locator('footer').getByText('Until then, check the heaters in person.').isVisible(),
    ).toBe(true);
    screens.mend();
    await page.getByText('All in order').waitFor();
  });

  it("shows state and reading at a station's page and on its alarm as they were while the connection is lost", async () => {
    await fillLab(screens, 1);
    const page = await openPage('/s/pot-1');
    const loseLine = async (): Promise<void> => {
      screens.pullCable();
      await page.locator('.line-note').waitFor();
    };
    await page.locator('.station-state').getByText('In window', { exact: true }).waitFor();
    await loseLine();
    expect(await page.locator('.station-state').textContent()).toBe('was: In window');
    screens.mend();
    await page.locator('.station-state').getByText('In window', { exact: true }).waitFor();
    screens.lab.raise('over-ceiling', 'pot-1');
    await page.goto(`${screens.address}/alarms`);
    await page.locator('.alarm-now').waitFor();
    await loseLine();
    expect(await page.locator('.alarm-now').textContent()).toMatch(/^was: 128\.4\s°C$/);
    screens.mend();
  });

  it('shows a dash in place of a reading that is too old, and since when', async () => {
    await fillLab(screens, 4);
    screens.lab.pass(630);
    const page = await openPage('/wall', { size: WALL });
    await page.getByText('No data').first().waitFor();
    expect(await page.locator('.digits').first().textContent()).toBe('–');
    expect(await page.locator('.tile-note').first().textContent()).toMatch(/^since .*; was 128\.4\s°C$/);
  });
});

describe('a screen opened while the demonstration is still being simulated', () => {
  it.each(['/wall', '/', '/alarms'])('shows the progress at %s, then loads by itself', async (path) => {
    await fillLab(screens, 4);
    let share: number | null = 0.4;
    Object.assign(screens.lab.running, { preparing: () => share });
    const page = await openPage(path, { size: WALL });
    await page.getByRole('heading', { name: 'seven days are being simulated: 40 %' }).waitFor();
    share = 0.7;
    await page.getByRole('heading', { name: '70 %' }).waitFor();
    screens.lab.raise('over-ceiling', 'pot-1');
    expect(await page.getByText('Melt pot 1').count()).toBe(0);
    share = null;
    screens.lab.tell({ kind: 'lab' });
    await page.getByText('Melt pot 1').first().waitFor();
  });
});

describe('the alarm list', () => {
  it('is operated by keyboard alone: acknowledge, shelve with a reason, unshelve', async () => {
    await fillLab(screens, 4);
    const alarm = screens.lab.raise('over-ceiling', 'pot-1');
    const page = await openPage('/alarms');
    const press = async (name: string): Promise<void> => {
      await page.getByRole('button', { name, exact: true }).focus();
      await page.keyboard.press('Enter');
    };
    await press('Acknowledge');
    await page.getByText(/Acknowledged by Demo visitor/).waitFor();
    expect(screens.lab.running.alarm(alarm.id)?.acknowledged).toBe(true);
    await press('Shelve…');
    await page.keyboard.type('Probe is being changed');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Shelved or suppressed', exact: true }).waitFor();
    expect(screens.lab.acts.at(-1)).toMatchObject({ type: 'shelve', reason: 'Probe is being changed' });
    await press('Unshelve');
    await page.getByRole('button', { name: 'Shelve…', exact: true }).waitFor();
  });

  it('shows a refusal and its reason where the action was requested', async () => {
    await fillLab(screens, 4);
    const alarm = screens.lab.raise('over-ceiling', 'pot-1');
    const page = await openPage('/alarms');
    await page.getByRole('button', { name: 'Acknowledge', exact: true }).waitFor();
    Object.assign(screens.lab.running, { act: async () => ({ ok: false, code: 'already-acknowledged' }) });
    await page.getByRole('button', { name: 'Acknowledge', exact: true }).click();
    await page
      .getByText(/^The alarm was acknowledged already, or is over\. .*Nothing was changed\.$/)
      .waitFor();
    expect(screens.lab.running.alarm(alarm.id)?.acknowledged).toBe(false);
  });

  it.each(['/phone', '/alarms'])(
    'on %s keeps an action done without a network, shows that it is waiting, and sends it once',
    async (path) => {
      await fillLab(screens, 4);
      const alarm = screens.lab.raise('over-ceiling', 'pot-1');
      const page = await openPage(path, { size: PHONE });
      const acknowledge = page.getByRole('button', { name: 'Acknowledge', exact: true });
      await acknowledge.waitFor();
      await page.context().setOffline(true);
      await acknowledge.click();
      await page.getByRole('heading', { name: 'Waiting to be sent (1)' }).waitFor();
      await page.getByRole('button', { name: 'Acknowledge', exact: true, disabled: true }).waitFor();
      await page.getByRole('button', { name: 'Add a note…', exact: true }).click();
      await page.keyboard.type('Turned down by hand');
      await page.keyboard.press('Enter');
      await page.getByRole('heading', { name: 'Waiting to be sent (2)' }).waitFor();
      await page.getByText(/Turned down by hand/).waitFor();
      expect(screens.lab.acts).toEqual([]);
      await page.context().setOffline(false);
      await page.getByRole('heading', { name: /Waiting to be sent/ }).waitFor({ state: 'detached' });
      await page.getByText(/Acknowledged by Demo visitor/).waitFor();
      expect(screens.lab.acts.map(({ type }) => type)).toEqual(['acknowledge', 'note']);
      expect(screens.lab.running.alarm(alarm.id)?.acknowledged).toBe(true);
    },
  );
});

describe('the notification plan', () => {
  it('is shown as sentences to a person who may not change it, with the reason', async () => {
    const manager = await screens.manager();
    const technician = await screens.person(manager, 'technician', 'Tom');
    const { people } = (await manager.send('GET', '/api/notification-plan')).json();
    const rota = { people: [people[1].id, people[0].id], startsOn: '2031-03-03', handoverTime: '08:00' };
    const { plan } = (await manager.send('GET', '/api/notification-plan')).json();
    await manager.send('PUT', '/api/notification-plan', { ...plan, rota });
    const page = await openPage('/set-up/notification-plan', { cookie: technician.cookie });
    await page.getByText('In weekly turns: Tom, Mara.').waitFor();
    await page.getByText('Only a manager can set this up.').waitFor();
    await page.getByText('After 10 minutes without acknowledgement: the next in the order').waitFor();
    expect(await page.getByRole('button', { name: 'Save' }).count()).toBe(0);
    expect(await page.locator('.duty-now').textContent()).toContain('Tom');
    expect(await page.locator('.duty-now').textContent()).toContain('until Mon 10 Mar, 08:00');
  });
});

describe('a screen of set-up', () => {
  it('leads whoever is not signed in to the sign-in, and back', async () => {
    const page = await openPage('/set-up/waxes');
    const way = page.locator('.refusal').getByRole('link', { name: 'Sign in', exact: true });
    expect(await way.getAttribute('href')).toBe('/sign-in?to=%2Fset-up%2Fwaxes');
  });
});

describe('a person’s own settings', () => {
  it('apply at once and after the page is opened again', async () => {
    await fillLab(screens, 2);
    const page = await openPage('/settings');
    await page.getByLabel('Fahrenheit').check();
    await page.getByLabel('Deutsch').check();
    await page.getByRole('heading', { name: 'Einstellungen' }).waitFor();
    await page.goto(`${screens.address}/wall`);
    await page.getByText('263,1').first().waitFor();
    expect(await page.evaluate('document.documentElement.lang')).toBe('de');
  });

  it('apply to the texts of alarms, present and new', async () => {
    await fillLab(screens, 2);
    screens.lab.raise('over-ceiling', 'pot-1');
    const page = await openPage('/settings');
    await page.getByLabel('Fahrenheit').check();
    await page.goto(`${screens.address}/alarms`);
    await page.getByText('read in fahrenheit, h23').waitFor();
    screens.lab.raise('left-on', 'pot-1');
    await page.getByText('read in fahrenheit, h23').nth(1).waitFor();
  });
});
