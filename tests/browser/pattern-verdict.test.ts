// The worked examples in the shipped product: five patterns, days of readings from a real publisher, and one sentence of
// verdict for each that reads the same on list, label page, wall, alarm, phone, night sheet and paper. Then the acts of
// the bench, one tap each, and their way back.

import { execFile } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FitProofView } from '../../dashboard/api/fit-proof.ts';
import type { PatternView } from '../../dashboard/api/patterns.ts';
import {
  type LabProcess,
  joinAsFirst,
  startLabProcess,
  temporaryFolder,
} from '../integration/lab-process.ts';
import { type Mosquitto, startMosquitto } from '../integration/mosquitto.ts';
import { until } from '../integration/until.ts';
import { joinHyphens } from '../../dashboard/web/screens/common/wall/text-fit.ts';
import { closeContexts, openPageFor, sharedBrowser } from './browser.ts';

const HOUR = 3_600_000;
const TEN_MINUTES = 600_000;
/** Three in the morning is now, so that the night lasts and its sheet is of now. */
const zoneWhereItIsNight = (): string => {
  const west = new Date().getUTCHours() - 3;
  if (west === 0) return 'Etc/GMT';
  return west <= 12 && west > 0 ? `Etc/GMT+${west}` : `Etc/GMT-${west < 0 ? -west : 24 - west}`;
};
const LAB = `
site:
  id: quay
  name: Quay Laboratory
  time_zone: ${zoneWhereItIsNight()}
  # Each of the examples is due by these, so that wall, phone and alarm have it too.
  rules: { pattern-due: { lead_hours: 240, standing_hours: 12 } }
stations:
  - { id: shelf, name: Bench shelf, kind: shelf, wax: inlay-type-2 }
  - { id: setback, name: Night cabinet, kind: cabinet, wax: inlay-type-2 }
probes:
  - { id: shelf-air, gateway: bench, station: shelf }
  - { id: setback-air, gateway: bench, station: setback }
`;

let mosquitto: Mosquitto;
const browser = await sharedBrowser();
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;
let cookie: string;
const ids = new Map<string, string>();

const ask = async <T>(path: string): Promise<T> =>
  (await (await fetch(labProcess.address + path, { headers: { cookie } })).json()) as T;
const post = async <T>(path: string, body: object): Promise<T> => {
  const headers = { cookie, 'content-type': 'application/json', origin: labProcess.address };
  const answer = await fetch(labProcess.address + path, {
    method: 'POST',
    headers,
    body: JSON.stringify(body),
  });
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return (await answer.json()) as T;
};
const patternOf = (name: string): Promise<PatternView> => ask(`/api/patterns/${ids.get(name)}`);
const sentenceOf = async (name: string): Promise<string> => (await patternOf(name)).verdict?.text ?? '';
const openPage = async (path: string): Promise<Page> => {
  const page = await openPageFor(browser, labProcess.address, cookie, {
    viewport: { width: 1440, height: 900 },
    locale: 'en-GB',
    serviceWorkers: 'block',
  });
  page.setDefaultTimeout(15_000);
  await page.goto(labProcess.address + path);
  return page;
};
const spaced = (text: string | null): string => (text ?? '').replaceAll('\u2060', '').replace(/\s+/g, ' ');

/**
 * The one sentence is there, whole; the verdict is of a whole ten minutes, so both are read until they are of one.
 * `renew`: for a sheet that stays as it was asked for.
 */
const readsTheVerdict = async (
  name: string,
  place: Locator,
  renew: () => Promise<unknown> = async () => {},
): Promise<void> => {
  await until(async () => {
    await place.first().waitFor();
    const sentence = await sentenceOf(name);
    const texts = await place.allTextContents();
    return (sentence !== '' && texts.some((text) => spaced(text).includes(sentence))) || void (await renew());
  });
};
/** Of the night sheet, line by line and cell by cell. */
const paperText = async (): Promise<string> => {
  const file = join(folder.path, 'sheet.pdf');
  const pdf = await fetch(`${labProcess.address}/api/night.pdf`, { headers: { cookie } });
  await writeFile(file, Buffer.from(await pdf.arrayBuffer()));
  const { stdout } = await promisify(execFile)('pdftotext', ['-raw', file, '-']);
  return spaced(stdout);
};

/** Ten-minute readings of both places over the last hours, in packs in the order of time. */
const publishDays = async (now: number, hours: number): Promise<void> => {
  const records = [];
  for (let at = now - hours * HOUR; at <= now; at += TEN_MINUTES) {
    const isNight = (now - at) % (24 * HOUR) < 12 * HOUR;
    records.push({ n: 'shelf-air', t: at / 1000, u: 'Cel', v: 22 });
    records.push({ n: 'setback-air', t: at / 1000, u: 'Cel', v: isNight ? 16 : 22 });
  }
  for (let from = 0; from < records.length; from += 200)
    await promisify(execFile)('mosquitto_pub', [
      ...['-h', '127.0.0.1', '-p', String(mosquitto.port), '-q', '1'],
      ...['-t', 'wax/quay/bench/senml', '-m', JSON.stringify(records.slice(from, from + 200))],
    ]);
};

const bridge = {
  wax: 'inlay-type-2',
  technique: 'layered',
  lengthMillimetres: 25,
  toleranceMicrometres: 50,
  station: 'shelf',
};
const EXAMPLES: readonly (readonly [name: string, hours: number, facts: object])[] = [
  ['4711 bridge', 24, bridge],
  ['4712 chilled', 24, { ...bridge, toleranceMicrometres: 43 }],
  [
    '4713 direct',
    24,
    { ...bridge, technique: 'pressed', lengthMillimetres: 8, toleranceMicrometres: 50, origin: 'direct' },
  ],
  [
    '4714 set-up',
    120,
    {
      ...bridge,
      wax: 'baseplate-hard',
      lengthMillimetres: 60,
      toleranceMicrometres: 170,
      kind: 'denture-set-up',
      isMadeOnDie: true,
    },
  ],
  ['4715 setback', 24, { ...bridge, toleranceMicrometres: 110, station: 'setback' }],
];

beforeAll(async () => {
  folder = await temporaryFolder();
  mosquitto = await startMosquitto();
  await writeFile(join(folder.path, 'lab.yaml'), LAB);
  const args = ['--port', '0', '--broker', mosquitto.url, '--lab', join(folder.path, 'lab.yaml')];
  labProcess = await startLabProcess({ data: join(folder.path, 'data'), args });
  cookie = await joinAsFirst(labProcess);
  const now = Date.now();
  for (const [caseReference, hours, facts] of EXAMPLES) {
    const madeAt = new Date(now - hours * HOUR).toISOString();
    const made = await post<PatternView>('/api/patterns', { ...facts, caseReference, madeAt });
    ids.set(caseReference, made.id);
  }
  const chilledAt = new Date(now - 12 * HOUR).toISOString();
  await post(`/api/patterns/${ids.get('4712 chilled')}/acts`, { kind: 'chilled', at: chilledAt, celsius: 5 });
  await publishDays(now, 121);
  await until(
    async () => ((await patternOf('4714 set-up')).verdict?.permanentMicrometres?.likely ?? 0) > 150,
  );
  // Of both places, up to the newest.
  for (const [name] of EXAMPLES)
    await until(async () => !(await sentenceOf(name)).includes('without readings'));
}, 180_000);
afterAll(async () => {
  await closeContexts(browser);
  await labProcess?.stop();
  await mosquitto?.stop();
  await folder?.remove();
});

describe('the verdicts of the worked examples', () => {
  it('are those of the hand computations', async () => {
    const likely = async (name: string) => (await patternOf(name)).verdict?.permanentMicrometres?.likely;
    expect(await likely('4711 bridge')).toBeCloseTo(51.2, 0);
    expect(await likely('4712 chilled')).toBeCloseTo(42.8, 0);
    expect(await likely('4714 set-up')).toBeCloseTo(166.2, 0);
    expect(await likely('4715 setback')).toBeCloseTo(46.6, 0);
    const { verdict } = await patternOf('4713 direct');
    expect(verdict?.contractionMicrometres?.likely).toBeCloseTo(-38.8, 1);
    expect(await sentenceOf('4711 bridge')).toMatch(/^Check first: predicted error 51 µm/);
    expect(await sentenceOf('4712 chilled')).toMatch(
      /^Check first: chilled at 5\.0 °C.*Let it come back to 22\.0 °C/,
    );
    expect(await sentenceOf('4714 set-up')).toMatch(
      /^Check first: predicted error 166 µm.*Check the contacts of the teeth on the articulator/,
    );
    expect(await sentenceOf('4715 setback')).toMatch(
      /it lies at 16\.0 °C, which changes its length by −48 µm/,
    );
  });

  it.each(EXAMPLES.map(([name]) => [name]))(
    'read the same on list, label page, wall, alarm, phone, night sheet and paper: %s',
    async (name) => {
      const list = await openPage('/patterns');
      await readsTheVerdict(name, list.locator('tr', { hasText: name }));
      const label = await openPage(`/p/${ids.get(name)}`);
      await readsTheVerdict(name, label.locator('.work-verdict'));
      const phone = await openPage('/phone');
      await readsTheVerdict(name, phone.locator('.phone-patterns li', { hasText: name }));
      const alarms = await openPage('/alarms');
      await readsTheVerdict(name, alarms.locator('li.alarm', { hasText: name }));
      const night = await openPage('/night');
      await night.getByRole('heading', { name: /^Night ending/ }).waitFor();
      await readsTheVerdict(name, night.locator('tr', { hasText: name }), () => night.reload());
      await until(async () => (await paperText()).includes(await sentenceOf(name)));
      for (const page of [list, label, phone, alarms, night]) await page.context().close();
      // The wall has the next one: while the others are put away it is this one.
      const others = EXAMPLES.flatMap(([example]) => (example === name ? [] : (ids.get(example) ?? [])));
      for (const id of others)
        await post(`/api/patterns/${id}/end`, { fate: 'discarded', reason: 'put away' });
      const wall = await openPage('/wall');
      await readsTheVerdict(name, wall.locator('.hands-second', { hasText: joinHyphens(name) }));
      await wall.context().close();
      for (const id of others) await post(`/api/patterns/${id}/resume`, { reason: 'back in place' });
    },
  );
});

describe('the acts of the bench', () => {
  it('are one tap each, show their time, change the verdict at once and can be undone', async () => {
    const page = await openPage(`/p/${ids.get('4711 bridge')}`);
    const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
    await press('Seated on the die');
    await page.locator('.done-acts li', { hasText: 'Seated on the die' }).waitFor();
    await press('Margins resealed');
    await page.locator('.work-verdict', { hasText: /^May be invested: predicted error 0\sµm/ }).waitFor();
    expect((await patternOf('4711 bridge')).verdict).toMatchObject({
      nextStep: 'keep-on-die',
      whereabouts: 'on-die',
    });
    for (const name of ['Margins resealed', 'Seated on the die'])
      await page.locator('.done-acts li', { hasText: name }).getByRole('button', { name: 'Undo' }).click();
    await page.locator('.done-acts').waitFor({ state: 'detached' });
    await page.locator('.work-verdict', { hasText: /^Check first: predicted error 5\d\sµm/ }).waitFor();
    expect((await patternOf('4711 bridge')).acts).toEqual([]);
  });

  it('are remake where the measured gap is over the tolerance, and name who measured it', async () => {
    const page = await openPage(`/p/${ids.get('4713 direct')}`);
    await page.getByLabel('Measured gap, µm').fill('130');
    await page.getByRole('button', { name: 'Record the gap' }).click();
    await page
      .locator('.work-verdict', { hasText: /^Remake: the gap measured on seating is 130\sµm/ })
      .waitFor();
    await page.locator('.done-acts li', { hasText: 'Ilse Brandt' }).waitFor();
    const { cases } = await ask<FitProofView>('/api/fit-proof');
    const measured = cases.find(({ pattern }) => pattern === ids.get('4713 direct'));
    expect(measured).toMatchObject({ stage: 'pattern', gapMicrometres: 130, isPassed: false });
    expect(measured?.predictedMicrometres).toBeGreaterThan(39);
    expect(measured?.storedHours).toBeCloseTo(24, 0);
  });

  it('go on after investing, to the seated casting', async () => {
    const page = await openPage(`/p/${ids.get('4715 setback')}`);
    const press = (name: string) => page.getByRole('button', { name, exact: true }).click();
    await press('Invested');
    await page.getByText(/^invested, /).waitFor();
    for (const name of ['Burned out', 'Cast']) {
      await press(name);
      await page.locator('.done-acts li', { hasText: name }).waitFor();
    }
    await press('It fits');
    await page.locator('.done-acts li', { hasText: 'Seated (It fits)' }).waitFor();
    const { acts, fate } = await patternOf('4715 setback');
    expect(acts.map(({ kind }) => kind)).toEqual(['burned-out', 'cast', 'seated']);
    expect(fate?.kind).toBe('invested');
  });

  it('are offered no more for a pattern that was remade, which can be taken back', async () => {
    await post(`/api/patterns/${ids.get('4714 set-up')}/end`, { fate: 'remade', reason: 'teeth moved' });
    const page = await openPage(`/p/${ids.get('4714 set-up')}`);
    const back = page.getByRole('button', { name: 'Undo: it is still waiting' });
    await back.waitFor();
    expect(await page.getByLabel(/At an earlier time/).count()).toBe(0);
    expect(await page.getByText('Record the hand-over').count()).toBe(0);
    await back.click();
    await page
      .getByLabel(/At an earlier time/)
      .first()
      .waitFor();
    await page.getByText('Record the hand-over').waitFor();
  });

  it('leave no case reference in the audit trail, and it can be erased for good', async () => {
    const id = ids.get('4712 chilled');
    await post(`/api/patterns/${id}/erase-case`, {});
    expect(await patternOf('4712 chilled')).toMatchObject({ caseReference: '', id });
    const trail = JSON.stringify(await ask(`/api/audit?entity=pattern&entityId=${id}&limit=100`));
    expect(trail).toContain('pattern-case-erased');
    expect(trail).not.toContain('4712');
  });

  it('warn of a case reference that looks like a name, and take it all the same', async () => {
    const page = await openPage('/patterns/new');
    await page.getByLabel('Case reference').fill('Anna Berger');
    await page.getByText('This looks like a person’s name. A case number belongs here.').waitFor();
    await page.getByRole('button', { name: 'Save pattern' }).click();
    await page.getByRole('heading', { name: 'Anna Berger' }).waitFor();
  });
});
