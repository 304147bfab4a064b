// Mappings of JSON on a real Mosquitto and on the embedded broker: followed from the moment at which they are set.

import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterEach, expect, it } from 'vitest';
import { startIntake } from './built-intake.ts';
import { tailReader } from '../../collector/journal/tail-reader.ts';
import type { PayloadMapping } from '../../lab/database/payload-mapping.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});
const MAPPING: PayloadMapping = {
  id: 'loggers',
  isOn: false,
  topic: 'pots/+/values',
  gateway: 'loggers',
  probe: '{1}',
  value: '/t',
  unit: 'Cel',
};

it.each(['external', 'embedded'] as const)(
  'a mapping on an %s broker shows its messages while it is off and takes them once it is on',
  async (kind) => {
    const folder = mkdtempSync(join(tmpdir(), 'waxwarden-mapping-'));
    cleanups.push(() => rmSync(folder, { recursive: true, force: true }));
    const broker = kind === 'external' ? await startMosquitto() : null;
    if (broker !== null) cleanups.push(broker.dispose);
    const intake = await startIntake({
      site: 'lab-1',
      journalFolder: folder,
      broker:
        broker === null
          ? { kind: 'embedded', host: '127.0.0.1', port: 0, login: null }
          : { kind: 'external', url: broker.url },
    });
    cleanups.push(intake.stop);
    const status = await until(() => {
      const { broker: state } = intake.status();
      return state.state === 'unreachable' ? null : state;
    });
    const url = status.state === 'listening' ? `mqtt://127.0.0.1:${status.port}` : (broker?.url ?? '');
    const entries = () => {
      const reader = tailReader(folder);
      const { entries: all } = reader.read(0, intake.journalEnd());
      reader.close();
      return all;
    };
    const client = await connectAsync(url);
    cleanups.push(() => client.end(true));
    const sendUntil = (look: () => boolean) =>
      until(async () => {
        await client.publishAsync('pots/pot-1/values', '{"t":61.5}', { qos: 1 });
        return look();
      });
    intake.map([MAPPING]);
    await sendUntil(() =>
      entries().some((entry) => entry.kind === 'rejection' && entry.code === 'unknown-topic'),
    );
    intake.map([{ ...MAPPING, isOn: true }]);
    await sendUntil(() => entries().some(({ kind: entry }) => entry === 'readings'));
    expect(entries().find((entry) => entry.kind === 'readings')).toMatchObject({
      gateway: 'loggers',
      readings: [{ probe: 'pot-1', celsius: 61.5 }],
    });
  },
);
