// Names that mean something to the language itself arrive as ids of probes, gateways and stations.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { waxWatch } from '../alerts/watch/wax-watch.ts';
import { decodeMessage } from '../collector/decode/decode-message.ts';
import { rejectionEntries } from '../collector/decode/rejection.ts';
import { seenProbes } from '../collector/qualify/probe-record.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import { openQuarantineTable } from '../collector/quarantine-table.ts';
import type { Journal, TailReader } from '../collector/journal/journal.ts';
import { openJournal } from '../collector/journal/open-journal.ts';
import { tailReader } from '../collector/journal/tail-reader.ts';
import { openSqliteStore } from '../collector/store/sqlite-store.ts';
import type { Store } from '../collector/store/store.ts';
import { type LabDatabase, openDatabase } from '../lab/database.ts';
import type { LabRepository } from '../lab/lab-repository.ts';
import { openLabRepository } from '../lab/sqlite-lab-repository.ts';
import { epochMillis } from '../wax/units.ts';
import { Pipeline } from './pipeline.ts';

const AT = 1_764_000_000_000;
const NAMES = [
  '__proto__',
  'constructor',
  'prototype',
  'toString',
  'valueOf',
  'hasOwnProperty',
  '__defineGetter__',
];

let folder: string;
let database: LabDatabase;
let repository: LabRepository;
let journal: Journal;
let reader: TailReader;
let store: Store;
let pipeline: Pipeline;

const openPipeline = (): Pipeline => {
  const quarantine = openQuarantineTable(database);
  return new Pipeline({
    watch: waxWatch,
    qualify,
    store,
    reader,
    lab: repository.lab,
    journalEnd: () => journal.end(),
    append: (entries) => journal.append(entries),
    alongside: ({ rejections }) => (rejections.length > 0 ? [quarantine.write(rejections)] : []),
    delay: () => Promise.reject(new Error('the pipeline would wait for a commit that cannot succeed')),
  });
};

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-names-'));
  database = openDatabase(join(folder, 'lab.db'));
  repository = openLabRepository(database, () => epochMillis(AT));
  journal = await openJournal(join(folder, 'journal'));
  reader = tailReader(join(folder, 'journal'));
  store = openSqliteStore(database);
});
afterEach(async () => {
  await pipeline.stop();
  await journal.close();
  reader.close();
  await store.close();
  database.close();
  rmSync(folder, { recursive: true });
});

let second = 0;
const send = async (topic: string, payload: string): Promise<void> => {
  second += 1;
  const { entries, rejections } = decodeMessage({
    topic: `wax/${repository.lab().site.id}/${topic}`,
    payload: Buffer.from(payload),
    receivedAt: epochMillis(AT + second * 10_000),
    delivery: 'live',
    site: repository.lab().site.id,
  });
  await journal.append([...entries, ...rejectionEntries(rejections)]);
};

describe.each(NAMES)('the name %s', (name) => {
  beforeEach(() => {
    repository.saveStation({ id: name, name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2' });
    repository.saveProbe({
      id: name,
      gateway: name,
      station: name,
      correction_celsius: 0,
      uncertainty_celsius: 0.2,
    });
    pipeline = openPipeline();
  });

  it('of a probe, its gateway and its station raises the alarm of any hot pot, before and after a restart', async () => {
    await send(`${name}/state`, 'online');
    for (let count = 0; count < 4; count += 1) await send(`${name}/${name}/celsius`, '150');
    await pipeline.drain();
    const isHot = () =>
      waxWatch.openAlarms(pipeline.watchState).map(({ rule, subject }) => `${rule} ${subject}`);
    expect(isHot()).toContain(`over-ceiling ${name}`);
    expect(pipeline.offset).toBe(journal.end());
    expect(seenProbes(pipeline.qualifyState).map(({ id }) => id)).toContain(name);
    await pipeline.stop();
    pipeline = openPipeline();
    expect(isHot()).toContain(`over-ceiling ${name}`);
    await send(`${name}/${name}/celsius`, '151');
    await pipeline.drain();
    expect(
      waxWatch.statuses(pipeline.watchState, repository.lab()).find(({ station }) => station === name),
    ).toMatchObject({
      celsius: 151,
    });
  });

  it('as a key of a SenML record or of a value in it spoils nothing but what the standard says', async () => {
    const nested = `{"${name}":{"${name}":1}}`;
    const pack = `[{"extra":${nested},"n":"${name}","u":"Cel","v":61.5},{"n":"pot-9","u":"Cel","v":62,"${name}":[]}]`;
    await send('gw-9/senml', pack);
    await send('gw-9/senml', `{"${name}":[]}`);
    await pipeline.drain();
    expect(pipeline.offset).toBe(journal.end());
    // A key that ends in "_" must be understood, or the pack is not taken (RFC 8428, 4.4).
    const taken = name.endsWith('_') ? undefined : 62;
    expect(seenProbes(pipeline.qualifyState).find(({ id }) => id === 'pot-9')?.celsius).toBe(taken);
  });
});
