// The library's own suite for stores, run on the store with sessions: each of its tests on a file of its own.

import assert from 'node:assert';
import { mkdtempSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, it } from 'vitest';
import { SESSION_LIMITS } from './session-tables.ts';
import { openSessions, type Persistence } from './session-persistence.ts';

interface StoreTest {
  readonly plan: (assertions: number) => void;
  readonly diagnostic: (line: string) => void;
  readonly assert: Record<string, (...values: never[]) => void>;
}
interface Suite {
  readonly test: (title: string, run: (test: StoreTest) => Promise<void>) => void;
  readonly persistence: () => Promise<unknown>;
  readonly testAsync: true;
}
/** The copy of the suite that came with the broker's library. */
const fromLibrary = createRequire(createRequire(import.meta.url).resolve('aedes'));
const memoryStore = fromLibrary('aedes-persistence') as () => Persistence;
const runSuite = fromLibrary('aedes-persistence/abstract.js') as (suite: Suite) => void;

const folder = mkdtempSync(join(tmpdir(), 'waxwarden-sessions-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
let files = 0;

/** Compares loosely, as the suite does where it runs at home, and counts. */
const countingAsserts = () => {
  let done = 0;
  const counted = Object.fromEntries(
    (['equal', 'notEqual', 'deepEqual', 'ok'] as const).map((name) => [
      name,
      (...values: never[]): void => {
        done += 1;
        (assert[name] as (...all: never[]) => void)(...values);
      },
    ]),
  );
  return { counted, done: () => done };
};

describe('The store with sessions passes the test of the broker’s library:', () => {
  runSuite({
    test: (title, run) =>
      it(title, async () => {
        const { counted, done } = countingAsserts();
        let planned: number | null = null;
        const plan = (assertions: number): void => {
          planned = assertions;
        };
        await run({ plan, diagnostic: () => {}, assert: counted });
        assert.equal(done(), planned ?? done());
      }),
    testAsync: true,
    persistence: async () => {
      files += 1;
      const memory = memoryStore();
      const sessions = openSessions(memory, {
        file: join(folder, `${files}.db`),
        loginOf: () => 'any',
        hasGranted: () => true,
        now: () => 0,
        lost: (_, { code }) => assert.fail(code),
        limits: SESSION_LIMITS,
      });
      // Messages wait for sessions alone, and the suite lets them wait for clients that it names.
      for (const id of ['abcde', 'fghih']) {
        await sessions.persistence.addSubscriptions({ id }, []);
        await memory.cleanSubscriptions({ id });
      }
      return sessions.persistence;
    },
  });
});
