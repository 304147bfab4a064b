// The demonstration as its three people meet it: the lab looks up, the technician's phone acknowledges and keeps a
// pattern, the manager prints the night. Real time: the pot of the story needs its two and a half minutes.

import { spawnSync } from 'node:child_process';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { NightSheet } from '../../dashboard/api/night.ts';
import type { PatternView } from '../../dashboard/api/patterns.ts';
import type { AlarmView, HealthView } from '../../dashboard/api/schemas.ts';
import { type LabProcess, startLabProcess, temporaryFolder } from '../integration/lab-process.ts';
import { until } from '../integration/until.ts';
import { closeContexts, sharedBrowser } from './browser.ts';

/** The story's pot passes its ceiling near two and a half minutes after the past is there. */
const STORY = { timeout: 280_000 };

const browser = await sharedBrowser();
let folder: { path: string; remove: () => Promise<void> };
let labProcess: LabProcess;

const screen = async (path: string, width: number, height: number): Promise<Page> => {
  const context = await browser.newContext({ viewport: { width, height }, locale: 'en-GB' });
  const page = await context.newPage();
  page.setDefaultTimeout(20_000);
  await page.goto(labProcess.address + path);
  return page;
};
const alarmOf = async (rule: string) =>
  (await labProcess.get<AlarmView[]>('/api/alarms')).find((alarm) => alarm.rule === rule);

beforeAll(async () => {
  folder = await temporaryFolder();
  labProcess = await startLabProcess({
    data: folder.path,
    args: ['--demo', '--port', '0', '--broker', 'embedded:0'],
  });
  await until(async () => (await labProcess.get<HealthView>('/api/health')).preparing === null);
}, 120_000);
afterAll(async () => {
  await closeContexts(browser);
  await labProcess?.stop();
  await folder?.remove();
});

describe('a day in the lab', () => {
  it('shows everybody a pot on the wall before it is over its ceiling, then sounds', STORY, async () => {
    const wall = await screen('/wall', 1920, 1080);
    await wall.getByText('Pattern cabinet').first().waitFor();
    const announced = await until(() => alarmOf('heading-over'));
    expect(announced.station).toBe('dip-pot');
    expect(announced.evidence.left_minutes).toBeGreaterThan(0);
    const over = await until(() => alarmOf('over-ceiling'));
    expect(Date.parse(over.raisedAt)).toBeGreaterThan(Date.parse(announced.raisedAt));
    await wall
      .locator('[role=alert], [aria-live]')
      .getByText(/Dip pot/)
      .first()
      .waitFor();
    await wall.context().close();
  });

  it('lets the technician acknowledge on the phone, with what to do and the caution visible', async () => {
    const phone = await screen('/phone', 390, 844);
    const card = phone
      .getByRole('listitem')
      .filter({ hasText: /Dip pot.*Over ceiling/i })
      .first();
    await card
      .getByText(/Hot wax burns|Never put water/)
      .first()
      .waitFor();
    await card.getByRole('button', { name: 'Acknowledge' }).click();
    const seen = await until(async () => {
      const alarm = await alarmOf('over-ceiling');
      return alarm?.acknowledged ? alarm : null;
    });
    expect(seen.acknowledgedBy).toBe('Demo visitor');
    await phone.context().close();
  });

  it('lets the technician register a pattern, move it, and see how long it may wait', async () => {
    const phone = await screen('/patterns/new', 390, 844);
    await phone.getByLabel('Case reference').fill('Night 7');
    await phone.getByLabel('Stored in').selectOption('Window shelf');
    await phone.getByRole('button', { name: 'Save pattern', exact: true }).click();
    await phone.getByRole('heading', { name: 'Night 7' }).waitFor();
    await phone.getByRole('button', { name: 'Pattern cabinet', exact: true }).click();
    const judged = await until(async () => {
      const patterns = await labProcess.get<PatternView[]>('/api/patterns');
      return patterns.find(
        ({ caseReference, station, outlook }) =>
          caseReference === 'Night 7' && station === 'pattern-cabinet' && outlook !== null,
      );
    });
    expect(judged.outlook?.predictedMicrometres).toBeGreaterThanOrEqual(0);
    await phone.context().close();
  });

  it('gives the manager last night on one page, also on paper', async () => {
    const desk = await screen('/night', 1440, 900);
    await desk.getByRole('heading', { name: /Night ending/ }).waitFor();
    await desk.getByRole('link', { name: 'Pattern cabinet' }).first().waitFor();
    const sheet = await labProcess.get<NightSheet>('/api/night');
    expect(sheet.places.length).toBeGreaterThan(0);
    const paper = await fetch(`${labProcess.address}/api/night.pdf`);
    expect(paper.headers.get('content-type')).toContain('application/pdf');
    const { stdout, status } = spawnSync('pdftotext', ['-layout', '-', '-'], {
      input: Buffer.from(await paper.arrayBuffer()),
      encoding: 'utf8',
    });
    expect(status).toBe(0);
    expect(stdout).toContain('Pattern cabinet');
    await desk.context().close();
  });
});
