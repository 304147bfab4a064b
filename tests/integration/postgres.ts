// A real PostgreSQL for a test: a cluster of its own in a temporary folder, by the user that Debian's package made, since
// the server refuses to run as root. Nothing of it outlives the test.

import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chownSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { freePort } from '../free-port.ts';
import { until } from './until.ts';

export interface Postgres {
  readonly url: string;
  readonly query: <T extends pg.QueryResultRow>(text: string, values?: unknown[]) => Promise<readonly T[]>;
  /** Immediate, as a crash. */
  readonly stop: () => Promise<void>;
  readonly start: () => Promise<void>;
  readonly dispose: () => Promise<void>;
}

const VERSIONS = '/usr/lib/postgresql';
const numberOf = (option: '-u' | '-g'): number =>
  Number(execFileSync('id', [option, 'postgres'], { encoding: 'utf8' }));

export const startPostgres = async (): Promise<Postgres> => {
  const version = readdirSync(VERSIONS).sort().at(-1) ?? '';
  const program = (name: string): string => join(VERSIONS, version, 'bin', name);
  const folder = mkdtempSync(join(tmpdir(), 'waxwarden-postgres-'));
  const isRoot = process.getuid?.() === 0;
  const as = isRoot ? { uid: numberOf('-u'), gid: numberOf('-g') } : {};
  if (as.uid !== undefined && as.gid !== undefined) chownSync(folder, as.uid, as.gid);
  const data = join(folder, 'data');
  execFileSync(program('initdb'), ['-D', data, '-U', 'group', '--auth=trust', '--no-sync', '-E', 'UTF8'], {
    ...as,
    cwd: folder,
    stdio: 'ignore',
  });
  const port = await freePort();
  const url = `postgres://group@127.0.0.1:${port}/postgres`;
  let ended: Promise<unknown> = Promise.resolve();
  let stopServer = (): void => {};
  const pool = new pg.Pool({ connectionString: url, max: 2 });
  pool.on('error', () => {});
  const answers = (): Promise<boolean> =>
    pool.query('SELECT 1').then(
      () => true,
      () => false,
    );
  const start = async (): Promise<void> => {
    const options = ['-D', data, '-p', String(port), '-h', '127.0.0.1', '-k', folder, '-c', 'fsync=off'];
    const child = spawn(program('postgres'), options, { ...as, cwd: folder, stdio: 'ignore' });
    ended = once(child, 'exit');
    stopServer = () => child.kill('SIGQUIT');
    await until(answers);
  };
  const stop = async (): Promise<void> => {
    stopServer();
    await ended;
  };
  await start();
  return {
    url,
    query: async (text, values) => (await pool.query(text, values)).rows,
    stop,
    start,
    dispose: async () => {
      await pool.end();
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
};
