// A day without the InfluxDB server, then a day without the broker: thirty probes go on measuring each minute, one pot was
// far too hot in it. What is there afterwards, to the value, and how long it takes until all of it is.

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { AlarmView, HealthView, ReadingsView } from '../../dashboard/api/schemas.ts';
import { SampleBuffer } from '../../gateway/buffer.ts';
import { Uplink } from '../../gateway/uplink.ts';
import { MILLIS_PER_MINUTE } from '../../wax/units.ts';
import { startInflux } from '../integration/influx.ts';
import { joinAsFirst, type LabProcess, startLabProcess } from '../integration/lab-process.ts';
import { type Mosquitto, startMosquitto } from '../integration/mosquitto.ts';
import { until } from '../integration/until.ts';

const PROBES = Array.from({ length: 30 }, (_, index) => `p${index + 1}`);
const MINUTES = 24 * 60;
const HOT = { probe: 'p7', fromMinute: 600, toMinute: 620, celsius: 160 } as const;
const LAB = [
  'site: { id: away, name: Away, timeZone: UTC }',
  'stations:',
  ...PROBES.map((id) => `  - { id: pot-${id}, name: Pot ${id}, kind: dip-pot, wax: inlay-type-2 }`),
  'probes:',
  ...PROBES.map((id) => `  - { id: ${id}, station: pot-${id}, gateway: bench-1, uncertainty_celsius: 0.5 }`),
].join('\n');

const valueAt = (probe: string, minute: number): number =>
  probe === HOT.probe && minute >= HOT.fromMinute && minute < HOT.toMinute
    ? HOT.celsius
    : 55 + (minute % 7) / 10;

/** Of one probe: the readings of the day that are there, and those of them that differ from what was measured. */
async function storedOf(lab: LabProcess, cookie: string, probe: string, first: number) {
  const [from, to] = [first, first + MINUTES * MILLIS_PER_MINUTE].map((at) => new Date(at).toISOString());
  const answer = await fetch(
    `${lab.address}/api/readings?probe=${probe}&from=${from}&to=${to}&points=${MINUTES}`,
    { headers: { cookie } },
  );
  const { buckets } = (answer.ok ? await answer.json() : { buckets: [] }) as Pick<ReadingsView, 'buckets'>;
  const isWrong = ({ at, count, max }: (typeof buckets)[number]): boolean =>
    count !== 1 || Math.abs(max - valueAt(probe, (Date.parse(at) - first) / MILLIS_PER_MINUTE)) > 1e-6;
  return { count: buckets.reduce((sum, { count }) => sum + count, 0), wrong: buckets.filter(isWrong).length };
}

/** `leave` takes the part away before anything of the day is sent, `back` brings it back when it misses all of the day. */
async function dayWithout(
  name: string,
  broker: Mosquitto,
  store: string,
  { leave, isMissed, back }: { leave: () => Promise<void>; isMissed: string; back: () => Promise<void> },
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  writeFileSync(join(folder, 'lab.yaml'), LAB);
  const lab = await startLabProcess({
    data: join(folder, 'data'),
    args: ['--port', '0', '--broker', broker.url, '--store', store, '--lab', join(folder, 'lab.yaml')],
  });
  const cookie = await joinAsFirst(lab);
  const get = async <T>(path: string): Promise<T> =>
    (await (await fetch(lab.address + path, { headers: { cookie } })).json()) as T;
  const isFailing = async (): Promise<boolean> =>
    !((await get<HealthView>('/api/health')).parts?.[isMissed]?.ok ?? true);
  await leave();
  const first = Math.floor(Date.now() / MILLIS_PER_MINUTE - MINUTES) * MILLIS_PER_MINUTE;
  const buffer = new SampleBuffer(join(folder, 'gateway.db'));
  const sweep = (minute: number) => {
    const at = first + minute * MILLIS_PER_MINUTE;
    const samples = PROBES.map((probe) => ({
      probe,
      unit: 'Cel' as const,
      value: valueAt(probe, minute),
      at,
    }));
    return { samples, isClockSet: true, sequence: buffer.add(samples, at, true) };
  };
  for (let minute = 0; minute < MINUTES; minute += 1) sweep(minute);
  let isConnected = false;
  const uplink = new Uplink({ site: 'away', gateway: 'bench-1', url: broker.url }, buffer, (line) => {
    isConnected ||= line.startsWith('connected');
  });
  const carry = async (): Promise<void> => {
    await until(() => isConnected);
    await uplink.sendLive(sweep(MINUTES));
    await until(() => buffer.size === 0);
  };
  // The server of the series is missed by whoever has something for it.
  if (isMissed === 'store') await carry();
  await until(isFailing);
  const begin = performance.now();
  await back();
  if (isMissed !== 'store') await carry();
  const all = async () => Promise.all(PROBES.map((probe) => storedOf(lab, cookie, probe, first)));
  const counted = (each: readonly { readonly count: number }[]): number =>
    each.reduce((sum, { count }) => sum + count, 0);
  await until(async () => counted(await all()) >= MINUTES * PROBES.length);
  const seconds = (performance.now() - begin) / 1000;
  const stored = await all();
  const wrong = stored.reduce((sum, each) => sum + each.wrong, 0);
  const isLearned = async (): Promise<boolean> =>
    (await get<readonly AlarmView[]>(`/api/alarms?state=all&from=${new Date(first).toISOString()}`)).some(
      ({ rule, subject }) => rule === 'fire-risk' && subject === `pot-${HOT.probe}`,
    );
  await until(isLearned);
  const status = await lab.stop();
  await uplink.stop();
  rmSync(folder, { recursive: true });
  const note = `${counted(stored)} stored of ${MINUTES * PROBES.length}; the heat of the day was announced; end status ${status}`;
  const n = MINUTES * PROBES.length;
  console.log(
    JSON.stringify({ name: `${name}-lost`, value: n - counted(stored), unit: 'readings', n, note }),
  );
  console.log(JSON.stringify({ name: `${name}-wrong`, value: wrong, unit: 'readings', n, note }));
  console.log(
    JSON.stringify({ name: `${name}-catch-up`, value: Number(seconds.toFixed(1)), unit: 's', n, note }),
  );
}

export const run = async (): Promise<void> => {
  const broker = await startMosquitto();
  const influx = await startInflux();
  await dayWithout('influx-away', broker, `influx:${influx.url}/away`, {
    leave: influx.stop,
    isMissed: 'store',
    back: influx.start,
  });
  await influx.dispose();
  await dayWithout('broker-away', broker, 'embedded', {
    leave: broker.stop,
    isMissed: 'broker',
    back: broker.start,
  });
  await broker.dispose();
};
