// The night sheet on paper and in the post: a PDF read back by another program holds what the interface answers, and a
// real mail server takes it, refuses it, is away and comes back.

import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { SMTPServer } from 'smtp-server';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { NightSheet } from '../../dashboard/api/night.ts';
import { openMailRecord } from '../../dashboard/reports/night/mail-record.ts';
import { type SheetMailer, sheetMailer } from '../../dashboard/reports/night/sheet-mailer.ts';
import { openSheetRecord } from '../../dashboard/reports/night/sheet-record.ts';
import { paperThread } from '../../dashboard/reports/paper/paper-thread.ts';
import { holdsMeltedWax } from '../../lab/station-kinds.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { type Browser, type ServerForTests, serverForTests } from '../server-for-tests.ts';

const day = [['07:30', '17:30']] as const;
const CLOSED = Date.parse('2031-02-28T16:30:00Z');
const STEP = 120_000;

let served: ServerForTests;
let manager: Browser;
let folder: string;

const alarmWords = () => ({ message: 'x', meaning: '', action: '', caution: '' });

const pdfText = (pdf: Buffer): string => {
  const file = join(folder, 'sheet.pdf');
  writeFileSync(file, pdf);
  return execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
};
const pagesOf = (pdf: Buffer): number => {
  const file = join(folder, 'sheet.pdf');
  writeFileSync(file, pdf);
  return Number(/Pages:\s+(\d+)/.exec(execFileSync('pdfinfo', [file], { encoding: 'utf8' }))?.[1]);
};

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-paper-'));
  served = await serverForTests({ demo: false });
  const { repository, store } = served.lab.running;
  repository.saveSite({
    ...repository.lab().site,
    workingHours: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
  });
  const probe = { gateway: 'gw-1', correction_celsius: 0, uncertainty_celsius: 0.2 };
  repository.saveProbe({ id: 'shelf-air', station: 'shelf-1', ...probe });
  const stays = [{ station: 'shelf-1', from: '2031-02-28T15:00:00.000Z', to: null }];
  for (const [id, tolerance] of [
    ['AB3CD', 60],
    ['EF4GH', 25],
    ['JK5LM', 6],
  ] as const)
    repository.savePattern({
      id,
      caseReference: `Brücke ${id} ß`,
      wax: 'inlay-type-2',
      technique: 'dipped',
      length_millimetres: 11,
      tolerance_micrometres: tolerance,
      madeAt: '2031-02-28T15:00:00.000Z',
      madeBy: 'Mara',
      stays,
      fate: null,
    });
  const readings = [];
  for (let at = CLOSED - 60 * STEP; at < served.lab.running.now(); at += STEP) {
    // Three hours without a word on Saturday.
    const hours = (at - CLOSED) / 3_600_000;
    if (hours > 20 && hours < 23) continue;
    const value = celsius(19.5 + 1.8 * Math.sin((hours / 24) * 2 * Math.PI));
    readings.push({ probe: 'shelf-air', at: epochMillis(at), celsius: value, quality: 'good' as const });
  }
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  manager = await served.manager();
});
afterEach(async () => {
  await served.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('the night sheet on paper', () => {
  it.each(['a4', 'letter'])('holds on %s what the interface answers, figure by figure', async (paper) => {
    const sheet = (await manager.send('GET', '/api/night')).json<NightSheet>();
    const answer = await manager.send('GET', `/api/night.pdf?paper=${paper}`);
    expect(answer.headers['content-type']).toBe('application/pdf');
    expect(pagesOf(answer.rawPayload)).toBe(1);
    const text = pdfText(answer.rawPayload);
    const words = text.replace(/\s+/g, ' ');
    const { figures, name } = sheet.places[0] ?? { figures: null, name: '' };
    expect(sheet.counts.remake + sheet.counts.check + sheet.counts.mayBeInvested).toBe(3);
    for (const count of [
      `Remake: ${sheet.counts.remake}`,
      `Check first: ${sheet.counts.check}`,
      `May be invested: ${sheet.counts.mayBeInvested}`,
    ])
      expect(words).toContain(count);
    const line = text.split('\n').find((each) => each.startsWith(name) && each.includes('°C')) ?? '';
    expect([...line.matchAll(/(−?\d+\.\d)\s°C/g)].map(([, value]) => Number(value))).toEqual(
      [
        figures?.minCelsius ?? 0,
        figures?.maxCelsius ?? 0,
        figures?.meanKineticCelsius ?? 0,
        figures?.largestSwingCelsius ?? 0,
      ].map((value) => Number(value.toFixed(1))),
    );
    expect(figures?.gapMinutes).toBeCloseTo(179, 9);
    expect(line).toMatch(/2\sh 59\smin/);
    for (const each of sheet.patterns) {
      expect(words).toContain(`${each.id} Brücke`);
      expect(words.replaceAll(' ', '')).toContain(
        `${each.predictedMicrometres?.toFixed(0)}µm*(${each.lowMicrometres?.toFixed(0)}–${each.highMicrometres?.toFixed(0)})`,
      );
    }
    for (const each of sheet.seeTo) expect(words).toContain(each.text);
  });
  it('bears who signed it, when, and the digest of the figures that were signed', async () => {
    const { date, figures } = (await manager.send('GET', '/api/night')).json<NightSheet>();
    await manager.send('POST', `/api/night/${date}/sign`, { figures });
    const words = pdfText((await manager.send('GET', '/api/night.pdf')).rawPayload).replace(/\s+/g, ' ');
    expect(words).toMatch(/Signed Mara, [^;]*\d\d:\d\d Digest of the figures/);
    expect(words).toContain(figures);
  });
  it('names the charges that are spent or nearly on the sheet of the last night, and none on an earlier one', async () => {
    const pot = served.lab.running.lab().stations.find(({ kind }) => holdsMeltedWax(kind));
    if (pot === undefined) throw new Error('the lab has no pot');
    served.lab.stand({ station: pot.id, doseShare: 0.93 });
    const textOf = async (query: string): Promise<string> =>
      pdfText((await manager.send('GET', `/api/night.pdf${query}`)).rawPayload).replace(/\s+/g, ' ');
    expect(await textOf('')).toContain(`${pot.name}: 93% of the allowed heat dose. Nearly spent.`);
    const table = (await manager.send('GET', '/api/night.csv')).body.split('\r\n');
    const line = table.find((row) => row.includes(',charge,')) ?? '';
    expect(line).toContain(`,charge,${pot.id},${pot.name},nearly-spent,`);
    expect(line).toMatch(/,0\.93$/);
    expect(await textOf('?date=2031-02-28')).not.toContain('Wax charges');
  });
  it('is worded in German and Fahrenheit for those who read so', async () => {
    const answer = await manager.send('GET', '/api/night.pdf?lang=de&unit=fahrenheit');
    const words = pdfText(answer.rawPayload).replace(/\s+/g, ' ');
    expect(words).toContain('Nachtblatt');
    expect(words).toContain('Neu anfertigen');
    expect(words).toMatch(/\d+,\d °F/);
    expect(words).not.toContain('°C');
  });
  it('goes on overleaf when it is too long, and every pattern is on it', async () => {
    const { repository } = served.lab.running;
    const [first] = repository.lab().patterns;
    if (first === undefined) throw new Error('the lab has no pattern');
    const ids = Array.from({ length: 60 }, (_, index) => `P${String(index).padStart(3, '0')}`);
    for (const id of ids) repository.savePattern({ ...first, id });
    const answer = await manager.send('GET', '/api/night.pdf');
    expect(pagesOf(answer.rawPayload)).toBeGreaterThan(1);
    const text = pdfText(answer.rawPayload);
    expect(ids.filter((id) => !text.includes(id))).toEqual([]);
    expect(text).toMatch(/Page 2 of \d/);
  });
});

describe('the night sheet in the post', () => {
  let inbox: string[];
  let answers: number[];
  let smtp: SMTPServer;
  let post: SheetMailer;

  beforeEach(async () => {
    inbox = [];
    answers = [];
    smtp = new SMTPServer({
      authOptional: true,
      disabledCommands: ['STARTTLS'],
      onData: (stream, _session, done) => {
        const chunks: Buffer[] = [];
        stream.on('data', (chunk: Buffer) => chunks.push(chunk));
        stream.on('end', () => {
          const code = answers.shift();
          if (code !== undefined) {
            done(Object.assign(new Error('not now'), { responseCode: code }));
            return;
          }
          inbox.push(Buffer.concat(chunks).toString('utf8'));
          done();
        });
      },
    });
    await new Promise<void>((listening) => smtp.listen(0, '127.0.0.1', listening));
    const { port } = smtp.server.address() as AddressInfo;
    const { running, database } = served.lab;
    const [mara] = running.lab().people;
    if (mara === undefined) throw new Error('the lab has nobody');
    running.repository.savePerson({ ...mara, email: 'mara@lab.example', language: 'de' });
    post = sheetMailer({
      running,
      alarmWords,
      record: openSheetRecord(database),
      mails: openMailRecord(database),
      mail: () => ({ server: `smtp://127.0.0.1:${port}`, from: 'waxwarden@lab.example' }),
      makePaper: paperThread(),
    });
    const put = await manager.send('PUT', '/api/night-delivery', {
      time: 'opening',
      recipients: [mara.id],
      paper: 'a4',
    });
    expect(put.statusCode).toBe(200);
  });
  afterEach(async () => {
    await post.close();
    await new Promise<void>((closed) => smtp.close(() => closed()));
  });
  const states = async () =>
    (await manager.send('GET', '/api/night-delivery'))
      .json<{ sent: { state: string; attempts: number }[] }>()
      .sent.map(({ state, attempts }) => [state, attempts]);

  it('goes once to each who chose it, in their language, with the PDF in it', async () => {
    await post.runDue();
    await post.runDue();
    expect(inbox).toHaveLength(1);
    expect(inbox[0]).toContain('To: mara@lab.example');
    expect(inbox[0]).toContain('Content-Type: application/pdf');
    expect(inbox[0]).toMatch(/^Subject: =\?UTF-8\?Q\?Nachtblatt_Mo/m);
    const part = /filename=night-2031-03-03\.pdf\r\n(?:[^\r\n]+\r\n)*\r\n([A-Za-z0-9+/=\r\n]+)/.exec(
      inbox[0] ?? '',
    );
    expect(pdfText(Buffer.from(part?.[1] ?? '', 'base64'))).toContain('Nachtblatt');
    expect(await states()).toEqual([['sent', 1]]);
  });
  it('is tried again after a pause when the server cannot take it now', async () => {
    answers = [451];
    await post.runDue();
    expect(await states()).toEqual([['again', 1]]);
    await post.runDue();
    expect(inbox).toHaveLength(0);
    served.lab.pass(61);
    await post.runDue();
    expect(inbox).toHaveLength(1);
    expect(await states()).toEqual([['sent', 2]]);
  });
  it('is not sent again where the server will never take it', async () => {
    answers = [550];
    await post.runDue();
    served.lab.pass(3600);
    await post.runDue();
    expect(inbox).toHaveLength(0);
    expect(await states()).toEqual([['refused', 1]]);
  });
  it('is not sent once the morning is over, nor to people the lab does not know', async () => {
    const put = await manager.send('PUT', '/api/night-delivery', {
      time: '08:00',
      recipients: ['nobody'],
      paper: 'a4',
    });
    expect(put.json<{ code: string }>().code).toBe('unknown-person');
    served.lab.pass(12 * 3600);
    await post.runDue();
    expect(inbox).toHaveLength(0);
  });
});
