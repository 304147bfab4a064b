import { describe, expect, it } from 'vitest';
import { brokerAccess, type BrokerUser, passwordHashOf } from './broker-access.ts';

const LOGIN = { user: 'gateway', password: 'shared secret' };
const ACCOUNTS = [{ gateway: 'bench-1', passwordHash: passwordHashOf('own secret') }];
const access = brokerAccess('lab', LOGIN, ACCOUNTS);
const SHARED: BrokerUser = { kind: 'shared' };
const PAIRED: BrokerUser = { kind: 'gateway', gateway: 'bench-1' };

describe('the sign-in at the embedded broker', () => {
  it.each([
    ['gateway', 'shared secret', SHARED],
    ['bench-1', 'own secret', PAIRED],
    ['bench-1', 'shared secret', null],
    ['gateway', 'own secret', null],
    ['bench-2', 'own secret', null],
    ['__proto__', 'own secret', null],
    [undefined, undefined, null],
  ])('of user %s with password %s is %j', (user, password, expected) => {
    const bytes = password === undefined ? undefined : Buffer.from(password);
    expect(access.signIn(user, bytes)).toEqual(expected);
  });

  it('demands no login on a machine of its own, but a paired gateway for its password', () => {
    const open = brokerAccess('lab', null, ACCOUNTS);
    expect(open.signIn(undefined, undefined)).toEqual(SHARED);
    expect(open.signIn('bench-1', Buffer.from('wrong'))).toBeNull();
  });
});

describe('what may be published', () => {
  it.each([
    ['wax/lab/bench-1/pot-1/celsius', true, false],
    ['wax/lab/bench-1/state', true, false],
    ['spBv1.0/wax/NDATA/bench-1', true, false],
    ['wax/lab/bench-2/pot-1/celsius', false, true],
    ['wax/lab/bench-10/state', false, true],
    ['wax/lab/bench-1', true, false],
    ['wax/other/bench-1/state', false, true],
    ['spBv1.0/wax/NDATA/bench-2', false, true],
    ['spBv1.0/wax/NDATA/bench 1', true, false],
    ['home/kitchen', false, true],
  ])('on %s by a paired gateway: %s, with the shared login: %s', (topic, byPaired, byShared) => {
    expect([access.mayPublish(PAIRED, topic), access.mayPublish(SHARED, topic)]).toEqual([
      byPaired,
      byShared,
    ]);
  });
});

describe('what a paired gateway may subscribe to', () => {
  it.each([
    ['wax/lab/bench-1/#', true],
    ['wax/lab/station/+', true],
    ['wax/lab/alarm/pot-1', true],
    ['spBv1.0/STATE/lab', true],
    ['spBv1.0/wax/NCMD/bench-1', true],
    ['spBv1.0/wax/NCMD/+', false],
    ['spBv1.0/wax/NDATA/#', false],
    ['wax/lab/#', false],
    ['wax/lab/+/state', false],
    ['#', false],
    ['wax/lab/bench-2/#', false],
  ])('%s: %s', (filter, may) => {
    expect(access.maySubscribe(PAIRED, filter)).toBe(may);
  });

  it.each(['$SYS/#', '$share/wall/wax/lab/#', '$SYS/+/new/clients'])(
    'is nothing of the broker itself, nor is it with the shared login: %s',
    (filter) => {
      expect([PAIRED, SHARED].map((user) => access.maySubscribe(user, filter))).toEqual([false, false]);
    },
  );
});
