// From an empty lab to the first live station, as a person does it: the code of the console, the forms, a real
// publisher on a real broker. No file is edited, and the only command typed is the one that the screen shows.

import { execFile } from 'node:child_process';
import { createECDH, randomBytes } from 'node:crypto';
import { promisify } from 'node:util';
import type { BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LabView } from '../../dashboard/api/lab-bodies.ts';
import type { StationView } from '../../dashboard/api/schemas.ts';
import type { NotificationPlanView } from '../../dashboard/api/notification-plan.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from '../integration/lab-process.ts';
import { type Mosquitto, startMosquitto } from '../integration/mosquitto.ts';
import { until } from '../integration/until.ts';
import { axeFaults } from './axe.ts';
import { closeContexts, sharedBrowser } from './browser.ts';

/** Nothing listens there, so that what is sent there waits. */
const DEAD_HOST = '127.0.0.1:9';
const PASSWORD = 'seven warm sticks of wax';
const SET_UP = [
  ...['site', 'stations', 'probes', 'waxes', 'notification-plan', 'deliveries'],
  ...['people', 'keys', 'audit', 'lab-file', 'account'],
];

let mosquitto: Mosquitto;
const browser = await sharedBrowser();
let context: BrowserContext;
let page: Page;
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;

/** Asks as the person who is signed in on the page. */
const ask = async <T>(path: string): Promise<T> => {
  const response = await context.request.get(labProcess.address + path);
  expect(response.status(), path).toBe(200);
  return (await response.json()) as T;
};
const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();

beforeAll(async () => {
  folder = await temporaryFolder();
  mosquitto = await startMosquitto();
  labProcess = await startLabProcess({
    data: folder.path,
    args: ['--port', '0', '--broker', mosquitto.url, '--push-hosts', DEAD_HOST],
  });
  context = await browser.newContext({
    viewport: { width: 1440, height: 900 },
    locale: 'en-GB',
    timezoneId: 'Europe/Lisbon',
    bypassCSP: true,
  });
  page = await context.newPage();
});
afterAll(async () => {
  await labProcess?.stop();
  await Promise.all([closeContexts(browser), mosquitto?.dispose()]);
  await folder?.remove();
});

describe('a lab that is set up for the first time', () => {
  it('is opened with the one-time code from the console, not with a default password', async () => {
    await page.goto(labProcess.address);
    await page.getByRole('heading', { name: 'The first person' }).waitFor();
    const code = await until(() => /with the code (\S+)/.exec(labProcess.printed())?.[1]);
    await page.getByLabel('One-time code').fill(code);
    await page.getByLabel('Name').fill('Ilse Brandt');
    await page.getByLabel('New password').fill(PASSWORD);
    await press('Get started');
    await page.getByRole('heading', { name: 'The lab', exact: true }).waitFor();
    expect(await axeFaults(page)).toEqual([]);
  });

  it('proposes the time zone of the browser and common working hours', async () => {
    await page.getByLabel('Name of the lab').fill('Harbour Street Laboratory');
    expect(await page.getByLabel('Time zone').inputValue()).toBe('Europe/Lisbon');
    await press('Continue');
    await page.getByText('Waiting for a first reading').waitFor();
    const { site, isEmpty } = await ask<LabView>('/api/lab');
    expect(isEmpty).toBe(false);
    expect(site).toMatchObject({ name: 'Harbour Street Laboratory', timeZone: 'Europe/Lisbon' });
    expect(site.workingHours).toMatchObject({ mon: ['08:00-17:00'], sun: [] });
  });

  it('shows a command that makes a probe appear with its value', async () => {
    const line = await page.locator('pre code').textContent();
    const [program = '', ...args] = (line ?? '').split(' ');
    expect(program).toBe('mosquitto_pub');
    expect(args).toContain(String(mosquitto.port));
    await promisify(execFile)(program, args);
    await page.getByText('pot-1', { exact: true }).waitFor();
    await page.getByText('72.4 °C').waitFor();
    expect(await axeFaults(page)).toEqual([]);
    await press('Continue');
  });

  it('shows window and ceiling of the chosen wax with their source, and the caution of a heater', async () => {
    await page.getByLabel('Name of the station').fill('Big pot');
    await page.getByLabel('Kind').selectOption('melt-pot');
    await page.getByLabel('Wax', { exact: true }).selectOption('inlay-type-2');
    const limits = page.getByLabel('Its limits');
    await limits.getByText('Ceiling').waitFor();
    expect(await limits.textContent()).toMatch(/published|common practice|from memory/);
    expect(await page.locator('.caution').textContent()).toContain('its own thermal cut-out');
    expect(await axeFaults(page)).toEqual([]);
    await press('Continue');
    await page.getByRole('heading', { name: 'The live station', exact: true }).waitFor();
    await promisify(execFile)('mosquitto_pub', [
      ...['-h', '127.0.0.1', '-p', String(mosquitto.port), '-q', '1'],
      ...['-t', 'wax/lab/bench/pot-1/celsius', '-m', '72.9'],
    ]);
    await page.locator('.station-row', { hasText: 'Big pot' }).getByText('72.9 °C').waitFor();
    const [station] = await ask<StationView[]>('/api/stations');
    expect(station).toMatchObject({
      id: 'big-pot',
      name: 'Big pot',
      probes: ['pot-1'],
      wax: { id: 'inlay-type-2' },
    });
  });

  it('leads on to the phone, and warns that none can open an address of this computer alone', async () => {
    expect(await axeFaults(page)).toEqual([]);
    await press('Continue');
    await page.getByRole('heading', { name: 'Your phone', exact: true }).waitFor();
    await page
      .getByText(/^No other device can open this link: the page was opened as 127\.0\.0\.1:/)
      .waitFor();
    expect(await page.locator('.link-code').count()).toBe(0);
    expect(await axeFaults(page)).toEqual([]);
    await press('Continue');
  });

  it('shows the code of an added person once', async () => {
    await page.getByLabel('Name', { exact: true }).fill('Jonas Weil');
    await press('Add this person');
    expect(await page.locator('.secret').textContent()).toContain('/sign-in?code=');
    await press('I have copied it');
    expect(await page.locator('.secret').count()).toBe(0);
  });

  it('leads to a wall that shows the new station live', async () => {
    await page.getByRole('link', { name: 'Show the wall' }).click();
    await promisify(execFile)('mosquitto_pub', [
      ...['-h', '127.0.0.1', '-p', String(mosquitto.port), '-q', '1'],
      ...['-t', 'wax/lab/bench/pot-1/celsius', '-m', '73.1'],
    ]);
    await page.getByText('73.1').waitFor();
    await page.getByText('Big pot').first().waitFor();
  });
});

describe('the set-up screens', () => {
  it.each(SET_UP)('%s passes axe in both themes and fits a small phone', async (place) => {
    await page.goto(`${labProcess.address}/set-up/${place}`);
    await page.locator('h1').waitFor();
    await page.locator('.set-up').locator('form, table, .card').first().waitFor();
    for (const colorScheme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme });
      expect(await axeFaults(page), colorScheme).toEqual([]);
    }
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBeLessThanOrEqual(320);
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it('restore a removed station with its probe when the removal is undone', async () => {
    await page.goto(`${labProcess.address}/set-up/stations`);
    await press('Remove Big pot');
    await page.getByText('Big pot is removed').waitFor();
    expect(await ask<StationView[]>('/api/stations')).toEqual([]);
    await press('Undo');
    await page.getByText('Undone: it is as it was before.').waitFor();
    expect((await ask<StationView[]>('/api/stations'))[0]).toMatchObject({
      id: 'big-pot',
      probes: ['pot-1'],
    });
  });

  it('show a refusal at its field and keep what was typed', async () => {
    await page.goto(`${labProcess.address}/set-up/stations`);
    await press('Change Big pot');
    await page.getByText("The lab's own values").click();
    await page.getByLabel('Own ceiling').fill('149');
    await press('Save');
    const field = page.getByLabel('Own ceiling');
    await until(async () => (await field.getAttribute('aria-invalid')) === 'true' || undefined);
    expect(await field.inputValue()).toBe('149');
    expect(await page.locator('.entry-error').first().textContent()).toContain('above the ceiling');
  });

  it('take the time by which a heater is to be ready, and leave it out once it is emptied', async () => {
    const readyBy = async () => (await ask<LabView>('/api/lab')).stations[0]?.ready_by;
    await page.getByLabel('Own ceiling').fill('');
    await page.getByLabel('Ready by').fill('08:15');
    await press('Save');
    await until(async () => (await readyBy()) === '08:15' || undefined);
    await page.goto(`${labProcess.address}/set-up/stations`);
    await press('Change Big pot');
    // Own values that are entered are shown at once.
    expect(await page.getByLabel('Ready by').inputValue()).toBe('08:15');
    await page.getByLabel('Ready by').fill('');
    await press('Save');
    await until(async () => (await readyBy()) === undefined || undefined);
  });

  it('show the effect of a calibration at two temperatures before it is saved', async () => {
    await page.goto(`${labProcess.address}/set-up/probes`);
    await press('Calibrate pot-1');
    await press('At two temperatures');
    const points = page.locator('form fieldset');
    await points.nth(0).getByLabel('Probe reads').fill('0.4');
    await points.nth(0).getByLabel('Reference reads').fill('0');
    await points.nth(1).getByLabel('Probe reads').fill('70.2');
    await points.nth(1).getByLabel('Reference reads').fill('70');
    await page.getByLabel('Uncertainty of the reference').fill('0.2');
    await page.getByText('70.20 °C becomes 70.00 °C').waitFor();
    await press('Save');
    await page.getByText('The calibration is saved.').waitFor();
    const [probe] = (await ask<LabView>('/api/lab')).probes;
    expect(probe).toMatchObject({ id: 'pot-1', station: 'big-pot', uncertainty_celsius: 0.2 });
    expect(probe?.calibration?.points).toHaveLength(2);
  });

  it('show the changes of a lab file before it is imported, and undo the import', async () => {
    const { yaml } = await ask<{ yaml: string }>('/api/lab-file');
    await page.goto(`${labProcess.address}/set-up/lab-file`);
    await page.getByLabel('Its text').fill('site: { id: lab }');
    await press('Show the changes');
    await page
      .getByText(/“name” is missing/)
      .first()
      .waitFor();
    const changed = yaml.replace('name: Big pot', 'name: Large pot').replace('time_zone:', 'timeZone:');
    await page.getByLabel('Its text').fill(changed);
    await press('Show the changes');
    await page.getByText('“timeZone” is “time_zone” now').waitFor();
    await page.locator('[data-side="added"]').getByText('Large pot').waitFor();
    expect((await ask<StationView[]>('/api/stations'))[0]?.name).toBe('Big pot');
    await press('Import');
    await page.getByText('The lab file is imported.').waitFor();
    expect((await ask<StationView[]>('/api/stations'))[0]?.name).toBe('Large pot');
    await press('Undo');
    await page.getByText('Undone: it is as it was before.').waitFor();
    expect((await ask<StationView[]>('/api/stations'))[0]?.name).toBe('Big pot');
  });

  it('save a notification plan, show refusals at their fields, and undo the change of the plan', async () => {
    const plan = async () => (await ask<NotificationPlanView>('/api/notification-plan')).plan;
    const before = await plan();
    await page.goto(`${labProcess.address}/set-up/notification-plan`);
    await page.getByText('Ilse Brandt cannot be notified').waitFor();
    await page.getByLabel('One person at a time, in weekly turns').check();
    for (const name of ['Jonas Weil', 'Ilse Brandt'])
      await page.getByLabel('Add a person').selectOption(name);
    await press('Move Ilse Brandt up');
    await page.getByLabel('First day of the first turn').fill('2031-03-03');
    await page.getByLabel('Send it every morning').check();
    await press('Add a webhook');
    await page
      .getByRole('group', { name: 'Webhook 1' })
      .getByLabel('Name', { exact: true })
      .fill('Door sign');
    await press('Add a topic');
    await page.getByLabel('MQTT topic').fill('lab/lamp');
    await page.getByLabel('Minutes without acknowledgement').nth(1).fill('25');
    await page
      .getByText(/^Changed and not saved yet: duty rota, notification steps, morning message, webhooks/)
      .waitFor();
    await press('Save');
    const late = page.getByLabel('Minutes without acknowledgement').nth(2);
    await until(async () => (await late.getAttribute('aria-invalid')) === 'true' || undefined);
    const address = page.getByLabel('Address', { exact: true });
    expect(await address.getAttribute('aria-invalid')).toBe('true');
    expect(await page.locator('.entry-error').allTextContents()).toEqual([
      'Whole minutes up to 1440, and more than in the step before.',
      'Enter a full address, beginning with https:// or http://.',
    ]);
    expect(await plan()).toEqual(before);
    expect(await axeFaults(page)).toEqual([]);
    await late.fill('40');
    await address.fill('https://door.lab.example/in');
    await press('Save');
    await page.getByText(/^The plan is saved\./).waitFor();
    const { people } = await ask<NotificationPlanView>('/api/notification-plan');
    expect(await plan()).toMatchObject({
      rota: {
        people: ['Ilse Brandt', 'Jonas Weil'].map(
          (name) => people.find((person) => person.name === name)?.id,
        ),
        startsOn: '2031-03-03',
      },
      escalation: [{ afterMinutes: 0 }, { afterMinutes: 25 }, { afterMinutes: 40 }],
      outsideHours: before.outsideHours,
      heartbeatAt: '07:30',
      webhooks: [{ id: 'door-sign', url: 'https://door.lab.example/in', template: null }],
      lampTopics: ['lab/lamp'],
    });
    const secret = page.getByRole('group', { name: 'Secret for its receiver' });
    expect(await secret.textContent()).not.toMatch(/[\w-]{43}/);
    await secret.getByRole('button', { name: 'Show' }).click();
    expect(await secret.textContent()).toMatch(/[\w-]{43}/);
    await press('Undo');
    await page.getByText('Undone: it is as it was before.').waitFor();
    expect(await plan()).toEqual(before);
    await page.getByText('No program is notified.').waitFor();
  });

  it('list deliveries by state with the meaning of each state', async () => {
    await page.goto(`${labProcess.address}/set-up/deliveries`);
    await page.getByText('Nothing has been sent yet.').waitFor();
    await page.getByRole('button', { name: /^refused/ }).click();
    await page.getByText(/^Refused for good/).waitFor();
    await page.getByText('There are none of these.').waitFor();
    const phone = {
      endpoint: `https://${DEAD_HOST}/this-very-phone`,
      keys: {
        p256dh: createECDH('prime256v1').generateKeys('base64url'),
        auth: randomBytes(16).toString('base64url'),
      },
    };
    const post = (path: string, body: object) =>
      page.evaluate(
        `fetch('${path}', { method: 'POST', headers: { 'content-type': 'application/json' }, body: '${JSON.stringify(body)}' }).then((answer) => answer.status)`,
      );
    expect(await post('/api/push/subscriptions', phone)).toBe(200);
    expect(await post('/api/push/test', { endpoint: phone.endpoint })).toBe(200);
    await page.getByRole('button', { name: /^waiting/ }).click();
    await page.getByText(/^Not sent yet, or to be retried/).waitFor();
    const row = page.locator('tbody tr');
    await until(async () => {
      await press('Refresh');
      return /What to do: on that phone/.test((await row.first().textContent()) ?? '') || undefined;
    });
    const delivery = (await row.first().textContent()) ?? '';
    expect(delivery).toMatch(/^waiting.*Ilse Brandt · phone.*test.*\d+, next at \d\d:\d\d:\d\d/);
    expect(delivery).not.toContain('this-very-phone');
    expect(await axeFaults(page)).toEqual([]);
  });

  it('create a wall link that opens without signing in, until it is revoked', async () => {
    await page.goto(`${labProcess.address}/set-up/keys`);
    await page.getByLabel('Screen', { exact: true }).fill('By the door');
    await press('Create a link');
    const link = (await page.locator('.secret').textContent()) ?? '';
    const screen = await browser.newContext();
    const wall = await screen.newPage();
    await wall.goto(link);
    await wall.getByText('Big pot').first().waitFor();
    await press('Revoke By the door');
    await page.getByText('By the door is revoked').waitFor();
    expect((await screen.request.get(`${labProcess.address}/api/stations`)).status()).toBe(401);
    await screen.close();
  });

  it('show in the audit trail who changed what, and that its chain is intact', async () => {
    await page.goto(`${labProcess.address}/set-up/audit`);
    await page.getByText('station removed').first().waitFor();
    expect(await page.locator('tbody').textContent()).toContain('Ilse Brandt');
    await press('Verify the chain');
    await page.getByText(/The chain is intact: all \d+ rows/).waitFor();
  });
});
