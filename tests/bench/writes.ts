// What a lab at its usual pace writes to its disk: thirty probes, a message of one reading in five seconds each, for a minute
// (WAXWARDEN_BENCH_SECONDS), by what the system counts for the process (proc(5), `io`): pages that it must bring to disk. What
// the disk itself writes for them, such as whole blocks of flash, is beyond it. Once with each message on disk before it is
// acknowledged, and once with a journal that is forced to disk each five seconds.

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { startLabProcess } from '../integration/lab-process.ts';
import { startMosquitto } from '../integration/mosquitto.ts';

const PROBES = 30;
const PERIOD_MILLIS = 5000;
const SECONDS = Number(process.env.WAXWARDEN_BENCH_SECONDS ?? 60);
/** Until the start's own writing is over. */
const SETTLING_MILLIS = 15_000;
const SITE = 'usual';

const probes = Array.from({ length: PROBES }, (_, index) => ({
  id: `p${index}`,
  station: `s${index}`,
  kind: index % 2 === 0 ? 'melt-pot' : 'shelf',
  base: index % 2 === 0 ? 75 : 21,
}));

const labFile = (): string =>
  JSON.stringify({
    site: { id: SITE, name: 'Usual lab', time_zone: 'Europe/Berlin' },
    stations: probes.map(({ station, kind }) => ({ id: station, name: station, kind, wax: 'inlay-type-2' })),
    probes: probes.map(({ id, station }) => ({ id, gateway: 'gw', station, uncertainty_celsius: 0.3 })),
  });

const writtenBytes = (processId: number): number =>
  Number(/^write_bytes: (\d+)/m.exec(readFileSync(`/proc/${processId}/io`, 'utf8'))?.[1]);

export const run = async (): Promise<void> => {
  for (const syncSeconds of [0, 5]) await measureWrites(syncSeconds);
};

const measureWrites = async (syncSeconds: number): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const file = join(folder, 'lab.yaml');
  writeFileSync(file, labFile());
  const broker = await startMosquitto();
  const lab = await startLabProcess({
    data: join(folder, 'data'),
    args: ['--port', '0', '--broker', broker.url, '--lab', file, '--journal-sync', String(syncSeconds)],
  });
  const processId = lab.process.pid ?? 0;
  const client = await connectAsync(broker.url, { clientId: 'publisher' });
  let counted = { bytes: 0, at: 0 };
  const begin = Date.now();
  for (let turn = 0; Date.now() - begin < SETTLING_MILLIS + SECONDS * 1000; turn += 1) {
    const at = Date.now();
    if (counted.at === 0 && at - begin >= SETTLING_MILLIS) counted = { bytes: writtenBytes(processId), at };
    const probe = probes[turn % PROBES];
    if (probe === undefined) break;
    const value = Math.round(16 * (probe.base + 0.5 * Math.sin(at / 60_000 + turn))) / 16;
    const pack = [{ n: probe.id, u: 'Cel', v: value, t: at / 1000 }];
    await client.publishAsync(`wax/${SITE}/gw/senml`, JSON.stringify(pack), { qos: 1 });
    await delay(Math.max(0, begin + (turn + 1) * (PERIOD_MILLIS / PROBES) - Date.now()));
  }
  const seconds = (Date.now() - counted.at) / 1000;
  const bytes = writtenBytes(processId) - counted.bytes;
  const readings = (seconds * 1000 * PROBES) / PERIOD_MILLIS;
  await client.endAsync();
  await lab.stop();
  await broker.dispose();
  rmSync(folder, { recursive: true, force: true });
  console.log(
    JSON.stringify({
      name: syncSeconds === 0 ? 'writes' : 'writes-journal-sync',
      value: Math.round(bytes / readings),
      unit: 'bytes written a reading',
      peer: 'the reading itself in the journal, about',
      peer_value: 200,
      ratio: Math.round(bytes / readings / 20) / 10,
      n: Math.round(readings),
      note: `${PROBES} probes, one reading a message in ${PERIOD_MILLIS / 1000} s; --journal-sync ${syncSeconds}; ${(((bytes / seconds) * 86_400) / 1e9).toFixed(2)} GB a day at this pace, over ${Math.round(seconds)} s`,
    }),
  );
};
