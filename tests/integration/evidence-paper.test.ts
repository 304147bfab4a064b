// The record of a span on paper and as a table: read back by another program it holds what the interface answers, its parts
// are tagged, and it is in the language requested.

import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { EvidenceReport } from '../../dashboard/api/evidence.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { type Browser, PASSWORDS, type ServerForTests, serverForTests } from '../server-for-tests.ts';

const START = Date.parse('2031-03-03T08:00:00Z');
const SPAN = 'from=2031-03-03&to=2031-03-03';

let served: ServerForTests;
let manager: Browser;
let folder: string;

const read = (pdf: Buffer, program: 'pdftotext' | 'pdfinfo', ...options: readonly string[]): string => {
  const file = join(folder, 'record.pdf');
  writeFileSync(file, pdf);
  const output = program === 'pdftotext' ? ['-'] : [];
  return execFileSync(program, [...options, file, ...output], { encoding: 'utf8', maxBuffer: 1e8 });
};
const pdf = async (query: string): Promise<Buffer> =>
  (await manager.send('GET', `/api/evidence.pdf?${query}`)).rawPayload;

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-evidence-'));
  served = await serverForTests({ demo: false });
  const { repository, store } = served.lab.running;
  repository.saveProbe({
    id: 'shelf-air',
    gateway: 'gw-1',
    station: 'shelf-1',
    correction_celsius: 0,
    uncertainty_celsius: 0.2,
    calibration: {
      day: '2031-02-10',
      reference: 'Čištín 4',
      reference_uncertainty_celsius: 0.1,
      points: [
        { reading_celsius: 15, reference_celsius: 15.5 },
        { reading_celsius: 30, reference_celsius: 30.5 },
      ],
    },
  });
  const readings = [];
  for (let at = START; at < START + 12 * 3_600_000; at += 120_000)
    readings.push({
      probe: 'shelf-air',
      at: epochMillis(at),
      celsius: celsius(19 + (at - START) / 7_200_000),
      quality: 'good' as const,
    });
  await store.apply({ readings, ruleState: {}, alongside: [], offset: store.offset() + 1 });
  manager = await served.manager();
  const { id } = served.lab.raise('storage-warm', 'shelf-1');
  const signed = { cause: '=SUM(A1) Fenster offen', correction: 'geschlossen' };
  await manager.send('POST', `/api/alarms/${id}/cause`, signed);
  const [person] = served.lab.running.lab().people;
  await manager.send('POST', '/api/training', {
    person: person?.id ?? '',
    procedure: 'Heißes Wachs',
    day: '2031-03-03',
  });
  served.lab.pass(86_400);
  await manager.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
});
afterEach(async () => {
  await served.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('the record of a span as a PDF', () => {
  it('is tagged: headings in order, tables of rows with their heads, and names its language', async () => {
    const paper = await pdf(`${SPAN}&lang=de`);
    expect(read(paper, 'pdfinfo')).toMatch(/Tagged:\s+yes/);
    expect(paper.toString('latin1')).toContain('/Lang (de)');
    const structure = read(paper, 'pdfinfo', '-struct');
    const parts = structure.split('\n').map((line) => line.trim());
    expect(parts[0]).toBe('Document');
    expect(parts.indexOf('H1 (block)')).toBeGreaterThan(0);
    expect(parts.indexOf('H2 (block)')).toBeGreaterThan(parts.indexOf('H1 (block)'));
    expect(parts.indexOf('H3 (block)')).toBeGreaterThan(parts.indexOf('H2 (block)'));
    const tables = parts.filter((part) => part.startsWith('Table')).length;
    const rows = parts.filter((part) => part.startsWith('TR')).length;
    expect(tables).toBeGreaterThanOrEqual(6);
    expect(rows).toBeGreaterThanOrEqual(2 * tables);
    expect(parts.filter((part) => part.startsWith('TH')).length).toBeGreaterThan(rows);
  });

  it('has every line of its text in the structure, but for page numbers', async () => {
    const paper = await pdf(`${SPAN}&lang=en`);
    const words = (text: string): readonly string[] => text.match(/[\p{L}\d]{3,}/gu) ?? [];
    const tagged = new Set(words(read(paper, 'pdfinfo', '-struct-text')));
    const missing = words(read(paper, 'pdftotext', '-raw')).filter((word) => !tagged.has(word));
    expect(missing.filter((word) => word !== 'Page')).toEqual([]);
  });

  it.each([
    ['en', ['Evidence record', 'Mean kinetic', 'Limits that held', 'Who changed what']],
    ['de', ['Nachweis', 'Mittlere kinetische', 'Damals gültige Grenzwerte', 'Wer was geändert hat']],
  ])('is in the language asked: %s', async (language, texts) => {
    const text = read(await pdf(`${SPAN}&lang=${language}`), 'pdftotext', '-raw').replace(/\s+/g, ' ');
    for (const expected of [...texts, 'Čištín 4', 'Mara', 'Heißes Wachs']) expect(text).toContain(expected);
  });

  it('holds the figures, the signed cause and the digest of the interface', async () => {
    const report = (await manager.send('GET', `/api/evidence?${SPAN}&lang=en`)).json<EvidenceReport>();
    const text = read(await pdf(`${SPAN}&lang=en&paper=letter`), 'pdftotext', '-raw').replace(/\s+/g, ' ');
    const shelf = report.places.find(({ station }) => station === 'shelf-1');
    expect(text).toContain(`${shelf?.whole.maxCelsius?.toFixed(1)} °C`);
    expect(text).toContain(`${shelf?.whole.meanKineticCelsius?.toFixed(1)} °C`);
    expect(text).toContain('Fenster offen');
    expect(text.replaceAll(' ', '')).toContain(report.figures);
  });
});

describe('the record of a span as a table', () => {
  it('reads back with signs and no formula, one line for each figure, limit, alarm, point and training', async () => {
    const answer = await manager.send('GET', `/api/evidence.csv?${SPAN}`);
    expect(answer.headers['content-type']).toContain('text/csv');
    const rows: Record<string, string>[] = parse(answer.body, { bom: true, columns: true });
    const of = (what: string) => rows.filter((row) => row.what === what);
    expect(of('readings').map(({ id }) => id)).toEqual(['pot-1', 'shelf-1']);
    expect(of('readings')[1]).toMatchObject({ readings: '360', min_celsius: '19' });
    expect(of('limit').length).toBeGreaterThanOrEqual(2);
    expect(of('calibration-point')).toMatchObject([
      { as_found_error_celsius: '-0.5', as_left_error_celsius: '0' },
      { as_found_error_celsius: '-0.5', as_left_error_celsius: '0' },
    ]);
    expect(of('signed-cause')).toMatchObject([{ by: 'Mara', cause: "'=SUM(A1) Fenster offen" }]);
    expect(of('training')).toMatchObject([{ action: 'Heißes Wachs', by: 'Mara' }]);
  });
});
