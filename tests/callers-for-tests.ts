// A lab for tests with everybody who may knock at its doors, each with what lets them in.

import type { LightMyRequestResponse } from 'fastify';
import { type Operation, operationsOf } from './hostile-requests.ts';
import { PASSWORDS, type ServerForTests, serverForTests } from './server-for-tests.ts';

export const CALLERS = [
  'nobody',
  'a wall',
  'a viewer',
  'a technician',
  'a manager',
  'a manager who left the desk',
  'a viewer’s token',
  'a technician’s token',
  'a manager’s token',
  'the account of a gateway',
  'a calendar link',
] as const;
export type Caller = (typeof CALLERS)[number];

/** What they hold lets them in elsewhere: to the broker, to the calendar feed. */
export const STRANGERS: readonly Caller[] = ['nobody', 'the account of a gateway', 'a calendar link'];

const READERS = ['a viewer', 'a technician', 'a manager', 'a manager who left the desk'] as const;
const READING_TOKENS = ['a viewer’s token', 'a technician’s token', 'a manager’s token'] as const;
const HANDS = [
  'a technician',
  'a manager',
  'a manager who left the desk',
  'a technician’s token',
  'a manager’s token',
] as const;
/** Written out once more beside the server's own table, so that a change of either is seen. */
const ALLOWED: Readonly<Record<string, readonly Caller[]>> = {
  nothing: CALLERS,
  'see-wall': ['a wall', ...READERS, ...READING_TOKENS],
  read: [...READERS, ...READING_TOKENS],
  'handle-alarms': HANDS,
  'tend-stations': HANDS,
  'tend-patterns': HANDS,
  'set-up-lab': ['a manager', 'a manager’s token'],
  'manage-people': ['a manager'],
  'read-audit': ['a manager', 'a manager who left the desk', 'a manager’s token'],
  'own-account': READERS,
};

export const mayPass = (caller: Caller, needs: string): boolean => ALLOWED[needs]?.includes(caller) === true;

/** The live stream does not end, and who signs out can request nothing further. */
const LEFT_OUT: ReadonlySet<string> = new Set(['GET /api/live', 'DELETE /api/session']);
export const operationName = ({ method, path }: Operation): string => `${method} ${path}`;

export interface CallersForTests {
  readonly test: ServerForTests;
  readonly operations: readonly Operation[];
  /** Operations that end and leave everybody signed in. */
  readonly askable: readonly Operation[];
  /** Names that stand for something in the lab, by what they name. */
  readonly ids: Readonly<Record<string, readonly string[]>>;
  readonly ask: (
    caller: Caller,
    method: Operation['method'],
    url: string,
    body: unknown,
  ) => Promise<LightMyRequestResponse>;
}

export async function callersForTests(): Promise<CallersForTests> {
  const test = await serverForTests();
  const manager = await test.manager();
  const token = async (role: string) => {
    const made = await manager.send('POST', '/api/tokens', { name: `Program of a ${role}`, role });
    return { authorization: `Bearer ${made.json<{ secret: string }>().secret}` };
  };
  const link = (await manager.send('POST', '/api/wall-links', { name: 'Wall' })).json<{ path: string }>();
  const wall = test.browser();
  await wall.send('GET', link.path);
  const calendar = (await manager.send('POST', '/api/calendar-links', { name: 'Calendar' })).json<{
    secret: string;
  }>();
  const { code } = (await manager.send('POST', '/api/gateways', { gateway: 'bench-1' })).json<{
    code: string;
  }>();
  const gateway = (await test.browser().send('POST', '/api/pair', { code })).json<{
    user: string;
    password: string;
  }>();
  const tokens = {
    'a viewer’s token': await token('viewer'),
    'a technician’s token': await token('technician'),
    'a manager’s token': await token('manager'),
  };
  const viewer = await test.person(manager, 'viewer', 'Vera');
  const technician = await test.person(manager, 'technician', 'Tom');
  // After half an hour only who types the password again goes on.
  test.lab.pass(31 * 60);
  const fresh = test.browser();
  await fresh.send('POST', '/api/session', { name: 'Mara', password: PASSWORDS.manager });
  const headers: Readonly<Record<Caller, Readonly<Record<string, string>>>> = {
    nobody: {},
    'a wall': { cookie: wall.cookie },
    'a viewer': { cookie: viewer.cookie },
    'a technician': { cookie: technician.cookie },
    'a manager': { cookie: fresh.cookie },
    'a manager who left the desk': { cookie: manager.cookie },
    ...tokens,
    'the account of a gateway': {
      authorization: `Basic ${Buffer.from(`${gateway.user}:${gateway.password}`).toString('base64')}`,
      cookie: `waxwarden=${gateway.password}; waxwarden-wall=${gateway.password}`,
    },
    'a calendar link': { cookie: `waxwarden=${calendar.secret}; waxwarden-wall=${calendar.secret}` },
  };
  const alarm = test.lab.raise('over-ceiling', 'pot-1');
  await test.lab.measure('pot-1-a', 131);
  const pattern = await fresh.send('POST', '/api/patterns', {
    caseReference: 'crown 14',
    wax: 'inlay-type-2',
    technique: 'dipped',
    station: 'shelf-1',
    lengthMillimetres: 12,
    toleranceMicrometres: 50,
  });
  const operations = operationsOf(test.server.swagger());
  return {
    test,
    operations,
    askable: operations.filter((operation) => !LEFT_OUT.has(operationName(operation))),
    ids: {
      stations: ['pot-1', 'shelf-1'],
      probes: ['pot-1-a'],
      alarms: [alarm.id],
      patterns: [pattern.json<{ id: string }>().id],
      people: ['vera', 'tom', 'mara'],
      'wax-classes': ['inlay-type-2'],
      kind: ['topping-up', 'cleaning'],
      rules: ['over-ceiling'],
    },
    ask: (caller, method, url, body) =>
      test.server.inject({
        method,
        url,
        headers: {
          host: 'localhost:8080',
          ...(body !== undefined && { 'content-type': 'application/json' }),
          ...headers[caller],
        },
        ...(body !== undefined && { payload: JSON.stringify(body) }),
      }),
  };
}
