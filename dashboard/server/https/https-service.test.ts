import { X509Certificate } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { request as plainRequest } from 'node:http';
import { createServer, type Server } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connect } from 'node:tls';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openAuthority } from './authority.ts';
import { openPlainServer } from './plain-server.ts';
import { serverNames } from './server-names.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';

import { type HttpsSetting, openHttps } from './https-service.ts';

let folder: string;
const servers: Server[] = [];
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-https-'));
});
afterEach(() => {
  for (const server of servers.splice(0)) server.close();
  rmSync(folder, { recursive: true, force: true });
});

const started = epochMillis(Date.now());
const https = (
  setting: HttpsSetting = { kind: 'authority' },
  now = () => started,
  hostNames: string[] = [],
) =>
  openHttps({
    addedNames: () => [],
    setting,
    dataFolder: folder,
    labName: 'Test lab',
    hostNames,
    now,
    onRenewalFailed: (error) => {
      throw error;
    },
  });
const listen = async (pair: { readonly key: string; readonly cert: string }): Promise<Server> => {
  const server = createServer({ key: pair.key, cert: pair.cert }, (_request, response) =>
    response.end('here'),
  );
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return server;
};
/** Shakes hands as a device that trusts this authority alone; returns the certificate, or why it was refused. */
const shake = (server: Server, ca: string, name: string): Promise<X509Certificate | string> =>
  new Promise((resolve) => {
    const { port } = server.address() as AddressInfo;
    const socket = connect(
      { host: '127.0.0.1', port, ca, servername: name === '127.0.0.1' ? '' : name },
      () => {
        const { raw } = socket.getPeerCertificate();
        socket.destroy();
        resolve(new X509Certificate(raw));
      },
    );
    socket.on('error', (error) =>
      resolve('code' in error && error.code !== 'UNSPECIFIED' ? String(error.code) : error.message),
    );
  });

describe('the lab’s own authority', () => {
  it('is believed by a client that trusts it alone, by name and by address', async () => {
    const secure = await https({ kind: 'authority' }, undefined, ['wax.lab-of-ours.example']);
    const server = await listen(secure.pair);
    const ca = secure.authority?.pem ?? '';
    for (const name of ['localhost', '127.0.0.1', 'wax.lab-of-ours.example'])
      expect(await shake(server, ca, name), name).toBeInstanceOf(X509Certificate);
  });

  it('is not believed for a name of somebody else, nor by a client that does not trust it', async () => {
    const secure = await https();
    const server = await listen(secure.pair);
    expect(await shake(server, secure.authority?.pem ?? '', 'bank.example')).toBe(
      'ERR_TLS_CERT_ALTNAME_INVALID',
    );
    const strange = await openAuthority(join(folder, 'other'), 'Other', { dns: [], addresses: [] }, started);
    expect(await shake(server, strange.pem, 'localhost')).toMatch(/SELF_SIGNED|UNABLE_TO/);
  });

  it('cannot vouch for a site on the internet even with its key: clients refuse what it may not sign', async () => {
    const authority = await openAuthority(
      join(folder, 'a'),
      'Test',
      { dns: ['localhost'], addresses: [] },
      started,
    );
    const server = await listen(await authority.issue({ dns: ['bank.example'], addresses: [] }, started));
    expect(await shake(server, authority.pem, 'bank.example')).toBe('permitted subtree violation');
    const far = await listen(
      await authority.issue({ dns: ['localhost'], addresses: ['203.0.113.9'] }, started),
    );
    expect(await shake(far, authority.pem, 'localhost')).toBe('permitted subtree violation');
  });

  it('keeps its key for its owner alone, and is the same after a restart', async () => {
    const first = await https();
    expect(statSync(join(folder, 'https/authority-key.pem')).mode & 0o777).toBe(0o600);
    expect(statSync(join(folder, 'https')).mode & 0o777).toBe(0o700);
    const second = await https();
    expect(second.authority?.fingerprint).toBe(first.authority?.fingerprint);
    expect(await shake(await listen(second.pair), first.authority?.pem ?? '', 'localhost')).toBeInstanceOf(
      X509Certificate,
    );
  });

  it('makes a root that signs nothing but servers, for ten years', async () => {
    const { authority } = await https();
    const root = new X509Certificate(authority?.pem ?? '');
    expect(root.ca).toBe(true);
    expect(root.fingerprint256.replaceAll(':', ' ')).toBe(authority?.fingerprint);
    expect((Date.parse(root.validTo) - started) / MILLIS_PER_DAY).toBeCloseTo(3650, 1);
    const server = new X509Certificate((await https()).pair.cert);
    expect(server.ca).toBe(false);
    expect(server.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1']);
    expect(server.checkIssued(root)).toBe(true);
  });

  it.each([
    [59.9, false],
    [60, true],
  ])(
    'gives the running server a new certificate when thirty of its ninety days are left: day %d',
    async (day, isNew) => {
      let now: EpochMillis = started;
      const secure = await https({ kind: 'authority' }, () => now);
      const server = await listen(secure.pair);
      const ca = secure.authority?.pem ?? '';
      const before = await shake(server, ca, 'localhost');
      now = epochMillis(started + day * MILLIS_PER_DAY);
      expect(await secure.renew(server)).toBe(isNew);
      const later = await shake(server, ca, 'localhost');
      // The handshake itself looks at the real clock: a certificate of sixty days ahead is not yet good for it.
      if (isNew) expect(later).toBe('CERT_NOT_YET_VALID');
      else expect(later).toEqual(before);
    },
  );

  it('refuses a name it may not vouch for, an end that has come, and files that are broken, each by name', async () => {
    await https();
    await expect(https({ kind: 'authority' }, undefined, ['new.example'])).rejects.toMatchObject({
      code: 'authority-name-outside',
    });
    const later = () => epochMillis(started + 3650 * MILLIS_PER_DAY);
    await expect(https({ kind: 'authority' }, later)).rejects.toMatchObject({ code: 'authority-expired' });
    writeFileSync(join(folder, 'https/authority-key.pem'), 'no key');
    await expect(https()).rejects.toMatchObject({ code: 'authority-unreadable' });
  });
});

describe('a certificate of the lab’s own', () => {
  const files = () => ({ kind: 'files' as const, cert: join(folder, 'c.pem'), key: join(folder, 'k.pem') });
  const put = async (now: EpochMillis, name = 'lab') => {
    const authority = await openAuthority(join(folder, name), 'Ours', { dns: [], addresses: [] }, now);
    const pair = await authority.issue({ dns: ['localhost'], addresses: [] }, now);
    writeFileSync(files().cert, pair.cert);
    writeFileSync(files().key, pair.key);
    return authority;
  };

  it('is served, and read again when it was renewed', async () => {
    const authority = await put(started);
    const secure = await https(files());
    expect(secure).toMatchObject({ authority: null, isPublic: true });
    const server = await listen(secure.pair);
    expect(await secure.renew(server)).toBe(false);
    const before = await shake(server, authority.pem, 'localhost');
    await put(started);
    expect(await secure.renew(server)).toBe(true);
    const later = await shake(server, authority.pem, 'localhost');
    expect(later).toBeInstanceOf(X509Certificate);
    expect(String(later)).not.toBe(String(before));
  });

  it('is refused when the key is another, when it has ended, when there is none', async () => {
    await expect(https(files())).rejects.toMatchObject({ code: 'https-file-unreadable' });
    await put(started);
    const key = readFileSync(files().key);
    await put(started);
    writeFileSync(files().key, key);
    await expect(https(files())).rejects.toMatchObject({ code: 'https-pair-mismatch' });
    await put(started);
    const later = () => epochMillis(started + 91 * MILLIS_PER_DAY);
    await expect(https(files(), later)).rejects.toMatchObject({ code: 'https-certificate-expired' });
  });
});

describe('the plain HTTP server', () => {
  const ask = (address: string, path: string, headers: Record<string, string> = {}, method = 'GET') =>
    new Promise<{ status: number; headers: Record<string, unknown>; body: Buffer }>((resolve, reject) => {
      const asked = plainRequest(`${address}${path}`, { headers, method }, (response) => {
        const parts: Buffer[] = [];
        response.on('data', (part: Buffer) => parts.push(part));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(parts),
          }),
        );
      });
      asked.on('error', reject);
      asked.end();
    });

  it('hands out the authority’s certificate and its page, and leads all else to HTTPS', async () => {
    const { authority } = await https();
    const plain = await openPlainServer({ host: '127.0.0.1', port: 0, securePort: 8460, authority });
    try {
      const { body, headers } = await ask(plain.address, '/authority.crt');
      expect(headers['content-type']).toBe('application/x-x509-ca-cert');
      expect(new X509Certificate(body).fingerprint256.replaceAll(':', ' ')).toBe(authority?.fingerprint);
      const page = await ask(plain.address, '/authority', { 'accept-language': 'de-AT' });
      expect(page.body.toString()).toContain('lang="de"');
      expect(page.body.toString()).toContain(authority?.fingerprint);
      const lab = await ask(plain.address, '/wall?x=1', { host: 'wax.local:8461' });
      expect(lab).toMatchObject({ status: 307, headers: { location: 'https://wax.local:8460/wall?x=1' } });
    } finally {
      await plain.close();
    }
  });

  it('takes no act in the clear and follows no strange host', async () => {
    const plain = await openPlainServer({ host: '127.0.0.1', port: 0, securePort: 443, authority: null });
    try {
      expect((await ask(plain.address, '/api/session', {}, 'POST')).status).toBe(403);
      expect((await ask(plain.address, '/', { host: 'a@b' })).status).toBe(400);
      expect((await ask(plain.address, '//elsewhere.example', { host: 'lab' })).headers.location).toBe(
        'https://lab//elsewhere.example',
      );
      expect((await ask(plain.address, '/authority.crt', { host: 'lab' })).status).toBe(308);
    } finally {
      await plain.close();
    }
  });
});

describe('the names of the machine', () => {
  it('are its own, that of the local network, its addresses, and what the lab set; no link-local ones', () => {
    const at = (address: string) => ({ address }) as never;
    const interfaces = { lo: [at('127.0.0.1'), at('::1')], eth: [at('192.168.1.7'), at('fe80::1')] };
    expect(serverNames({ hostname: 'LabPC', interfaces }, ['Wax.example', '10.1.1.1'])).toEqual({
      dns: ['localhost', 'labpc', 'labpc.local', 'wax.example'],
      addresses: ['127.0.0.1', '::1', '192.168.1.7', '10.1.1.1'],
    });
  });
});
