// A lab on a Mosquitto with TLS, whose certificate an authority of its own has signed: trusted when that is named, and
// with a reason for the person when it is not.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterEach, expect, it } from 'vitest';
import { openAuthority } from '../../dashboard/server/https/authority.ts';
import { epochMillis } from '../../wax/units.ts';
import { joinAsFirst, type LabProcess, startLabProcess, temporaryFolder } from './lab-process.ts';
import { startMosquitto } from './mosquitto.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const HERE = { dns: ['localhost'], addresses: ['127.0.0.1'] };
interface Health {
  readonly parts: { readonly broker: { readonly ok: boolean; readonly detail: string } };
}

it('a lab trusts the authority of its broker when it is named, and reports why it cannot connect when it is not', async () => {
  const { path, remove } = await temporaryFolder();
  cleanups.push(remove);
  const now = epochMillis(Date.now());
  const authority = await openAuthority(path, 'Quay Laboratory', HERE, now);
  const { cert, key } = await authority.issue(HERE, now);
  const file = (name: string, text: string): string => {
    writeFileSync(join(path, name), text);
    return join(path, name);
  };
  const [pem, certFile, keyFile] = [
    file('lab.pem', authority.pem),
    file('broker.pem', cert),
    file('broker.key', key),
  ];
  const broker = await startMosquitto({
    configuration: (_, port) =>
      [
        ...[`listener ${port} 127.0.0.1`, `certfile ${certFile}`, `keyfile ${keyFile}`],
        ...['allow_anonymous true', 'user root', 'log_dest none', ''],
      ].join('\n'),
  });
  cleanups.push(broker.dispose);
  const url = `mqtts://localhost:${broker.port}`;
  const start = async (...more: readonly string[]): Promise<LabProcess> => {
    const data = await temporaryFolder();
    const lab = await startLabProcess({ data: data.path, args: ['--port', '0', '--broker', url, ...more] });
    cleanups.push(data.remove, lab.stop);
    return lab;
  };
  const [trusting, doubting] = await Promise.all([start('--broker-authority', pem), start()]);

  const gateway = await connectAsync(url, { ca: authority.pem, reconnectPeriod: 0 }, false);
  cleanups.push(() => gateway.endAsync());
  const signedIn = async (lab: LabProcess) => {
    const cookie = await joinAsFirst(lab);
    return async <T>(at: string): Promise<T> =>
      (await (await fetch(lab.address + at, { headers: { cookie } })).json()) as T;
  };
  const ask = await signedIn(trusting);
  const { site } = await ask<{ readonly site: string }>('/api/health');
  await until(async () => (await ask<Health>('/api/health')).parts.broker.ok);
  await gateway.publishAsync(`wax/${site}/gw/pot-1/celsius`, '61.5', { qos: 1 });
  const probe = await until(async () =>
    (await ask<readonly { id: string; celsius: number }[]>('/api/probes')).find(({ id }) => id === 'pot-1'),
  );
  expect(probe.celsius).toBe(61.5);

  const askDoubting = await signedIn(doubting);
  const refused = await until(async () => {
    const { broker: part } = (await askDoubting<Health>('/api/health')).parts;
    return /certificate|issuer/i.test(JSON.stringify(part)) ? part : null;
  });
  expect(refused.ok).toBe(false);
});
