import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../tests/server-for-tests.ts';
import { pairGateway } from './pair.ts';
import { readSettings } from './settings.ts';

let test: ServerForTests;
let address: string;
let folder: string;
beforeEach(async () => {
  test = await serverForTests();
  await test.server.listen({ host: '127.0.0.1', port: 0 });
  address = `http://127.0.0.1:${(test.server.server.address() as AddressInfo).port}`;
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-pair-'));
});
afterEach(async () => {
  await test.close();
  rmSync(folder, { recursive: true });
});
const code = async (): Promise<string> => {
  const manager = await test.manager();
  return (await manager.send('POST', '/api/gateways', { gateway: 'bench-1' })).json().code;
};

describe('pairing a gateway by one command', () => {
  it('writes settings with which it starts, and the password for its owner alone', async () => {
    const file = join(folder, 'gateway.yaml');
    expect(await pairGateway(address, await code(), file, null)).toBe('bench-1');
    const settings = readSettings(readFileSync(file, 'utf8'));
    expect(settings).toMatchObject({
      site: 'test-lab',
      gateway: 'bench-1',
      one_wire: {},
      broker: { url: 'mqtt://127.0.0.1:1883', user: 'bench-1' },
    });
    const passwordFile = settings.broker.password_file ?? '';
    expect(readFileSync(passwordFile, 'utf8')).toMatch(/^[\w-]{43}\n$/);
    expect(statSync(passwordFile).mode & 0o777).toBe(0o600);
    expect(readFileSync(file, 'utf8')).not.toContain(readFileSync(passwordFile, 'utf8').trim());
  });

  it('leaves what else is in the file, comments included', async () => {
    const file = join(folder, 'gateway.yaml');
    writeFileSync(
      file,
      'site: old\ngateway: old\nbuffer_file: /var/b.db\n# the pot beside the window\none_wire: { probes: { 28-1: pot-1 } }\n',
    );
    await pairGateway(address, await code(), file, null);
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('# the pot beside the window');
    expect(readSettings(text)).toMatchObject({
      gateway: 'bench-1',
      buffer_file: '/var/b.db',
      one_wire: { probes: { '28-1': 'pot-1' } },
    });
  });

  it('connects by TLS where the broker does, and trusts the authority that was named', async () => {
    await test.close();
    test = await serverForTests();
    const tls = { own: true, host: null, port: 8883, user: null, tls: true };
    Object.assign(test.lab.running, { brokerEndpoint: () => tls });
    await test.server.listen({ host: '127.0.0.1', port: 0 });
    address = `http://127.0.0.1:${(test.server.server.address() as AddressInfo).port}`;
    const file = join(folder, 'gateway.yaml');
    const authority = join(folder, 'authority.pem');
    writeFileSync(authority, '');
    await pairGateway(address, await code(), file, authority);
    expect(readSettings(readFileSync(file, 'utf8')).broker).toMatchObject({
      url: 'mqtts://127.0.0.1:8883',
      authority_file: authority,
    });
  });

  it('reports why a code is refused, and uses none up for a file that it cannot read', async () => {
    const file = join(folder, 'gateway.yaml');
    await expect(pairGateway(address, 'AAAAA-AAAAA', file, null)).rejects.toThrow(/code/i);
    const good = await code();
    writeFileSync(file, 'site: [');
    await expect(pairGateway(address, good, file, null)).rejects.toThrow();
    rmSync(file);
    expect(await pairGateway(address, good, file, null)).toBe('bench-1');
  });
});
