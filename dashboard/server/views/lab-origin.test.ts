import { describe, expect, it } from 'vitest';
import { PASSWORDS, serverForTests } from '../../../tests/server-for-tests.ts';
import { labOrigin } from './lab-origin.ts';
import { firstPersonCode } from '../sign-in/sign-in.ts';

type Door = Parameters<typeof labOrigin>[0];
const DOOR: Door = {
  hostNames: ['localhost', 'wax.example'],
  loopback: false,
  isSecure: true,
  behindProxy: false,
  port: 8460,
};

describe('the address that other devices open', () => {
  it.each<[string, Partial<Door>, string | null]>([
    ['the first name that the lab gave, with the port', {}, 'https://wax.example:8460'],
    ['the name alone on the usual port', { port: 443 }, 'https://wax.example'],
    ['plain where there is no certificate', { isSecure: false }, 'http://wax.example:8460'],
    ['that of the proxy, not the own port', { behindProxy: true, isSecure: false }, 'https://wax.example'],
    ['an address of version 6 in brackets', { hostNames: ['fd00::7'] }, 'https://[fd00::7]:8460'],
    ['not known without a name', { hostNames: [] }, null],
    ['not known when the name is this machine', { hostNames: ['localhost', '127.0.0.1', '::1'] }, null],
    ['not there when only this machine can come in', { loopback: true }, null],
  ])('is %s', (_what, door, address) => {
    expect(labOrigin({ ...DOOR, ...door })).toBe(address);
  });
});

it('the address for other devices is shown to who is signed in, and to nobody else', async () => {
  const { lab, browser, close } = await serverForTests({
    demo: false,
    loopback: false,
    hostNames: ['wax.example'],
    trustedProxies: ['127.0.0.1'],
  });
  const proxy = { host: 'wax.example', origin: 'https://wax.example', 'x-forwarded-proto': 'https' };
  const visitor = browser();
  const health = async () => (await visitor.send('GET', '/api/health', undefined, proxy)).json();
  expect(await health()).not.toHaveProperty('reachedAt');
  const code = firstPersonCode(lab.running, lab.database);
  await visitor.send('POST', '/api/join', { code, name: 'Mara', password: PASSWORDS.manager }, proxy);
  expect(await health()).toMatchObject({ reachedAt: 'https://wax.example' });
  await close();
});
