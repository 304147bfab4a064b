import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CALLERS, type CallersForTests, callersForTests, mayPass } from '../../tests/callers-for-tests.ts';
import { hostileRequest } from '../../tests/hostile-requests.ts';

const REQUESTS_OF_EACH = 3;
const SEED = 7;
/** Some hundreds of requests, on a machine that does much else. */
const LONGEST_MILLIS = 600_000;
/** A stack, a path, a statement or a name of this machine. */
const INNER_DETAIL = /\n\s+at |node_modules|SQLITE|TypeError|RangeError|waxwarden-server-|\.ts:\d/;

describe('requests with broken parts', () => {
  let lab: CallersForTests;
  beforeAll(async () => {
    lab = await callersForTests();
  });
  afterAll(() => lab.test.close());

  it('are refused by every operation without a fault of the server and without an inner detail', {
    timeout: LONGEST_MILLIS,
  }, async () => {
    const now = lab.test.lab.running.now();
    let taken = 0;
    for (const [index, operation] of lab.askable.entries()) {
      const callers = CALLERS.filter((caller) => mayPass(caller, operation.needs));
      const requests = fc.sample(hostileRequest(operation, { ids: lab.ids, now }), {
        numRuns: REQUESTS_OF_EACH,
        seed: SEED + index,
      });
      for (const [at, { method, url, body }] of requests.entries()) {
        const answer = await lab.ask(callers[at % callers.length] ?? 'nobody', method, url, body);
        const about = JSON.stringify({ method, url, body, answer: answer.body }).slice(0, 3000);
        expect(answer.statusCode, about).toBeLessThan(500);
        expect(INNER_DETAIL.exec(answer.body), about).toBeNull();
        expect(answer.headers['x-content-type-options'], about).toBe('nosniff');
        if (answer.statusCode >= 400)
          expect(answer.headers['content-type'], about).toContain('application/problem+json');
        else taken += 1;
      }
    }
    // Most parts are right, so that what lies behind the checks is tried too.
    expect(taken).toBeGreaterThan(lab.askable.length / 2);
  });
});
