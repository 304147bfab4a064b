// The built product with a lab of 10,000 probes, each sending one reading in five seconds: what is resident, every ten
// seconds.

import { readFileSync, rmSync, writeFileSync, mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as delay } from 'node:timers/promises';
import { connectAsync } from 'mqtt';
import { startLabProcess } from '../../integration/lab-process.ts';
import { startMosquitto } from '../../integration/mosquitto.ts';
import { processorMillisOf } from '../processor/processor-millis.ts';

const STATIONS = 2500;
const PROBES_A_STATION = 4;
const GATEWAYS = 200;
const PERIOD_MILLIS = 5000;
const SAMPLE_MILLIS = 10_000;
const SITE = 'large';

/** Half pots, half places, as a lab file. */
const labFile = (): string =>
  JSON.stringify({
    site: { id: SITE, name: 'Large lab', time_zone: 'Europe/Berlin' },
    stations: Array.from({ length: STATIONS }, (_, index) =>
      index % 2 === 0
        ? { id: `s${index}`, name: `Pot ${index}`, kind: 'melt-pot', wax: 'inlay-type-2' }
        : { id: `s${index}`, name: `Shelf ${index}`, kind: 'shelf', wax: 'inlay-type-2' },
    ),
    probes: probes.map(({ id, gateway, station }) => ({ id, gateway, station, uncertainty_celsius: 0.3 })),
  });

const probes = Array.from({ length: STATIONS * PROBES_A_STATION }, (_, index) => ({
  id: `p${index}`,
  gateway: `g${index % GATEWAYS}`,
  station: `s${Math.floor(index / PROBES_A_STATION)}`,
  base: Math.floor(index / PROBES_A_STATION) % 2 === 0 ? 75 : 21,
}));

/** Megabytes; Linux only (proc(5), `status`). */
const residentMegabytes = (processId: number): number => {
  const kilobytes = /^VmRSS:\s+(\d+)/m.exec(readFileSync(`/proc/${processId}/status`, 'utf8'))?.[1];
  return Number(kilobytes) / 1024;
};

export interface Residence {
  readonly megabytes: readonly number[];
  readonly readings: number;
  /** Processor time over time on the clock. */
  readonly cores: number;
}

export async function tenThousandProbes(seconds: number): Promise<Residence> {
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-bench-'));
  const file = join(folder, 'lab.yaml');
  writeFileSync(file, labFile());
  const broker = await startMosquitto();
  const lab = await startLabProcess({
    data: join(folder, 'data'),
    args: ['--port', '0', '--broker', broker.url, '--lab', file],
  });
  const processId = lab.process.pid ?? 0;
  const client = await connectAsync(broker.url, { clientId: 'publisher' });
  const megabytes: number[] = [];
  const begin = Date.now();
  const worked = processorMillisOf(processId);
  let sampledAt = begin;
  let readings = 0;
  // A gateway at a time, spread evenly over the period.
  for (let turn = 0; Date.now() - begin < seconds * 1000; turn += 1) {
    const gateway = `g${turn % GATEWAYS}`;
    const at = Date.now();
    const pack = probes
      .filter((probe) => probe.gateway === gateway)
      .map(({ id, base }, index) => ({
        n: id,
        u: 'Cel',
        t: (at - index) / 1000,
        v: Math.round(16 * (base + 0.5 * Math.sin(at / 60_000 + index))) / 16,
      }));
    readings += pack.length;
    await client.publishAsync(`wax/${SITE}/${gateway}/senml`, JSON.stringify(pack), { qos: 1 });
    if (Date.now() - sampledAt >= SAMPLE_MILLIS) {
      sampledAt += SAMPLE_MILLIS;
      megabytes.push(residentMegabytes(processId));
    }
    await delay(Math.max(0, begin + (turn + 1) * (PERIOD_MILLIS / GATEWAYS) - Date.now()));
  }
  const cores = (processorMillisOf(processId) - worked) / (Date.now() - begin);
  await client.endAsync();
  await lab.stop();
  await broker.dispose();
  rmSync(folder, { recursive: true, force: true });
  return { megabytes, readings, cores };
}
