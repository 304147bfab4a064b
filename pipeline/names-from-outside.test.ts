// Names that mean something to the language itself arrive as ids of probes, gateways and stations.

import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { waxWatch } from '../alerts/watch/wax-watch.ts';
import { decodeMessage } from '../collector/decode/decode-message.ts';
import { rejectionEntries } from '../collector/decode/rejection.ts';
import { seenProbes } from '../collector/qualify/probe-record.ts';
import { qualify } from '../collector/qualify/qualify.ts';
import { openQuarantineTable } from '../collector/quarantine-table.ts';
import { type DataFolder, openDataFolder } from '../tests/data-folder-for-tests.ts';
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

let data: DataFolder;
let pipeline: Pipeline;

const openPipeline = (): Pipeline => {
  const { database, journal, reader, repository, store } = data;
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
  data = await openDataFolder(epochMillis(AT));
});
afterEach(async () => {
  await pipeline.stop();
  await data.close();
});

let second = 0;
const send = async (topic: string, payload: string): Promise<void> => {
  second += 1;
  const { entries, rejections } = decodeMessage({
    topic: `wax/${data.repository.lab().site.id}/${topic}`,
    payload: Buffer.from(payload),
    receivedAt: epochMillis(AT + second * 10_000),
    delivery: 'live',
    site: data.repository.lab().site.id,
  });
  await data.journal.append([...entries, ...rejectionEntries(rejections)]);
};

describe.each(NAMES)('the name %s', (name) => {
  beforeEach(() => {
    data.repository.saveStation({ id: name, name: 'Pot', kind: 'melt-pot', wax: 'inlay-type-2' });
    data.repository.saveProbe({
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
    expect(pipeline.offset).toBe(data.journal.end());
    expect(seenProbes(pipeline.qualifyState).map(({ id }) => id)).toContain(name);
    await pipeline.stop();
    pipeline = openPipeline();
    expect(isHot()).toContain(`over-ceiling ${name}`);
    await send(`${name}/${name}/celsius`, '151');
    await pipeline.drain();
    expect(
      waxWatch.statuses(pipeline.watchState, data.repository.lab()).find(({ station }) => station === name),
    ).toMatchObject({ celsius: 151 });
  });

  it('as a key of a SenML record or of a value in it spoils nothing but what the standard names', async () => {
    const nested = `{"${name}":{"${name}":1}}`;
    const pack = `[{"extra":${nested},"n":"${name}","u":"Cel","v":61.5},{"n":"pot-9","u":"Cel","v":62,"${name}":[]}]`;
    await send('gw-9/senml', pack);
    await send('gw-9/senml', `{"${name}":[]}`);
    await pipeline.drain();
    expect(pipeline.offset).toBe(data.journal.end());
    // A key that ends in "_" must be understood, or the pack is not taken (RFC 8428, 4.4).
    const taken = name.endsWith('_') ? undefined : 62;
    expect(seenProbes(pipeline.qualifyState).find(({ id }) => id === 'pot-9')?.celsius).toBe(taken);
  });
});
