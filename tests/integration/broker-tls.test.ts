// The embedded broker over TLS, with certificates of a lab's own authority and real clients.

import { once } from 'node:events';
import { connect as connectPlain } from 'node:net';
import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Intake } from '../../collector/intake/intake.ts';
import { startIntake } from './built-intake.ts';
import { type Authority, openAuthority } from '../../dashboard/server/https/authority.ts';
import { epochMillis } from '../../wax/units.ts';
import { temporaryFolder } from './lab-process.ts';
import { until } from './until.ts';

const cleanups: (() => unknown)[] = [];
afterEach(async () => {
  for (const cleanup of cleanups.splice(0).reverse()) await cleanup();
});

const HERE = { dns: ['localhost'], addresses: ['127.0.0.1'] };
async function authority(): Promise<Authority> {
  const { path, remove } = await temporaryFolder();
  cleanups.push(remove);
  return openAuthority(path, 'Lab', HERE, epochMillis(Date.now()));
}
const certificate = async (by: Authority) => {
  const { cert, key } = await by.issue(HERE, epochMillis(Date.now()));
  return { cert, key };
};

let trusted: Authority;
let intake: Intake;
let port: number;
beforeEach(async () => {
  trusted = await authority();
  const { path: journalFolder, remove } = await temporaryFolder();
  cleanups.push(remove);
  intake = await startIntake({
    site: 'lab-1',
    journalFolder,
    broker: { kind: 'embedded', host: '127.0.0.1', port: 0, login: null, tls: await certificate(trusted) },
  });
  cleanups.push(intake.stop);
  const { broker } = intake.status();
  port = broker.state === 'listening' ? broker.port : 0;
});

async function client(options: IClientOptions): Promise<MqttClient> {
  const opened = await connectAsync(
    `mqtts://localhost:${port}`,
    { protocolVersion: 4, reconnectPeriod: 0, ...options },
    false,
  );
  cleanups.push(() => opened.end(true));
  return opened;
}

describe('the embedded broker over TLS', () => {
  it('takes readings of a client that trusts the authority of the lab', async () => {
    const gateway = await client({ ca: trusted.pem });
    await gateway.publishAsync('wax/lab-1/gw/pot-1/celsius', '61.5', { qos: 1 });
    await until(() => intake.counts().acknowledged === 1);
  });

  it('is refused by a client that does not, and answers nothing to one without TLS', async () => {
    await expect(client({})).rejects.toThrow(/certificate|authority|issuer/i);
    const plain = connectPlain(port, '127.0.0.1');
    await once(plain, 'connect');
    const received: Buffer[] = [];
    plain.on('data', (chunk: Buffer) => received.push(chunk));
    plain.on('error', () => {});
    // CONNECT of MQTT 3.1.1 with an empty client id.
    plain.write(Buffer.from('100c00044d5154540402003c0000', 'hex'));
    await once(plain, 'close');
    // At most an alert of TLS (content type 21); never a CONNACK.
    expect(Buffer.concat(received)[0] ?? 21).toBe(21);
  });

  it('shows a renewed certificate to whoever connects from then on, and ends no connection for it', async () => {
    const before = await client({ ca: trusted.pem });
    const next = await authority();
    intake.setCertificate(await certificate(next));
    await until(() =>
      client({ ca: next.pem }).then(
        () => true,
        () => false,
      ),
    );
    await before.publishAsync('wax/lab-1/gw/pot-1/celsius', '62', { qos: 1 });
    expect(before.connected).toBe(true);
  });
});
