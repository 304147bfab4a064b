// The commands of docs/group.md, run as written there against a real PostgreSQL and a real Mosquitto.

import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeMessages } from '../../group/write.ts';
import { standingOf } from './group-messages.ts';
import { type Mosquitto, startMosquitto } from './mosquitto.ts';
import { type Postgres, startPostgres } from './postgres.ts';
import { until } from './until.ts';

const PROGRAM = [process.execPath, '--disable-warning=ExperimentalWarning', 'dist/cli/main.js'];
const commands = (
  /```sh\n(waxwarden group[\s\S]*?)```/.exec(readFileSync('docs/group.md', 'utf8'))?.[1] ?? ''
)
  .split('\n')
  .filter((line) => line !== '');

describe('the commands of the guide to a group', () => {
  let postgres: Postgres;
  let broker: Mosquitto;
  let running: ChildProcess | null = null;
  beforeAll(async () => {
    [postgres, broker] = await Promise.all([startPostgres(), startMosquitto()]);
  });
  afterAll(async () => {
    running?.kill('SIGKILL');
    await broker.dispose();
    await postgres.dispose();
  });

  const start = (line = '') => {
    const words = [...line.replace(/^waxwarden /, '').matchAll(/"([^"]*)"|(\S+)/g)].map(
      ([, quoted, bare]) => quoted ?? bare ?? '',
    );
    const [node = '', ...program] = PROGRAM;
    const child = spawn(node, [...program, ...words], {
      env: {
        ...process.env,
        WAXWARDEN_GROUP_POSTGRES: postgres.url,
        WAXWARDEN_GROUP_BROKER: broker.url,
        WAXWARDEN_GROUP_PORT: '0',
      },
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    let printed = '';
    child.stdout.on('data', (chunk) => (printed += chunk));
    return { child, printed: () => printed };
  };

  it('add a person, start a copy whose screen that person signs in to, forget a lab, and end it cleanly', async () => {
    const [add, run, remove, removeLab] = commands;
    const added = start(add);
    const [status] = await once(added.child, 'exit');
    expect(status).toBe(0);
    const key = added.printed().trim().split(' ').at(-1) ?? '';
    const copy = start(run);
    running = copy.child;
    const address = await until(() => /Open (http:\S+)\//.exec(copy.printed())?.[1]);
    const signIn = () =>
      fetch(`${address}/sign-in`, { method: 'POST', body: new URLSearchParams({ key }), redirect: 'manual' });
    expect((await signIn()).status).toBe(303);
    const removed = start(remove);
    await once(removed.child, 'exit');
    expect((await signIn()).status).toBe(401);
    const client = new pg.Client({ connectionString: postgres.url });
    await client.connect();
    await writeMessages(client, [{ kind: 'standing', body: standingOf('north') }]);
    expect((await once(start(removeLab).child, 'exit'))[0]).toBe(0);
    expect((await client.query('SELECT site FROM lab')).rows).toEqual([]);
    expect((await once(start(removeLab).child, 'exit'))[0]).toBe(1);
    await client.end();
    copy.child.kill('SIGTERM');
    expect((await once(copy.child, 'exit'))[0]).toBe(0);
  });

  it('are refused by one line that names a setting that is missing', async () => {
    const [node = '', ...program] = PROGRAM;
    const child = spawn(node, [...program, 'group'], { stdio: ['ignore', 'ignore', 'pipe'] });
    let complaint = '';
    child.stderr.on('data', (chunk) => (complaint += chunk));
    const [status] = await once(child, 'exit');
    expect(status).toBe(2);
    expect(complaint.trim()).toMatch(/^waxwarden group: --postgres \(WAXWARDEN_GROUP_POSTGRES\)[^\n]*$/);
  });
});
