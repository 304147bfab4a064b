import { describe, expect, it } from 'vitest';
import { readGroupSettings, WrongGroupSetting } from './settings.ts';

const GOOD = [
  '--postgres',
  'postgres://group@db/group',
  '--broker',
  'mqtts://a.example,mqtts://b.example:8884',
];

describe('the settings of a group', () => {
  it('are read from the command line before the environment', () => {
    expect(
      readGroupSettings(GOOD, { WAXWARDEN_GROUP_PORT: '9000', WAXWARDEN_GROUP_POSTGRES: 'postgres://x' }),
    ).toEqual({
      postgres: 'postgres://group@db/group',
      brokers: ['mqtts://a.example', 'mqtts://b.example:8884'],
      authorityFile: null,
      influx: null,
      host: '127.0.0.1',
      port: 9000,
      provider: null,
    });
  });

  it.each([
    ['no database', ['--broker', 'mqtt://a'], 'postgres'],
    ['a database of another kind', [...GOOD, '--postgres', 'mysql://secret@db'], 'postgres'],
    ['a broker that is none', [...GOOD, '--broker', 'mqtts://a.example,http://b'], 'broker'],
    ['a server of series that is none', [...GOOD, '--influx', 'postgres://secret@series'], 'influx'],
    ['a port beyond the last', [...GOOD, '--port', '70000'], 'port'],
    [
      'a provider without TLS',
      [...GOOD, '--url', 'https://group.example', '--oidc-issuer', 'http://secret.example'],
      'oidc-issuer',
    ],
    ['a provider and no address of the screen', [...GOOD, '--oidc-issuer', 'https://id.example'], 'url'],
    [
      'a provider that knows no client',
      [...GOOD, '--url', 'https://group.example', '--oidc-issuer', 'https://id.example'],
      'oidc-client',
    ],
    ['a setting that there is not', [...GOOD, '--colour', 'red'], 'postgres'],
  ])('are refused with %s, by name and without the value', (_, args, name) => {
    expect(() => readGroupSettings(args, {})).toThrow(WrongGroupSetting);
    expect(() => readGroupSettings(args, {})).toThrow(name);
    expect(() => readGroupSettings(args, {})).not.toThrow(/secret[@.]/);
  });
});
