import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { brokerLogin } from './broker-login.ts';
import { retryMillis } from './external-broker.ts';

const folder = mkdtempSync(join(tmpdir(), 'waxwarden-login-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the login of the embedded broker', () => {
  it('is made once, is not the same twice, and only its owner can read it', () => {
    const first = brokerLogin(join(folder, 'deep', 'a.json'));
    expect(first).toMatchObject({ user: 'gateway' });
    expect(first.password).toMatch(/^[\w-]{20}$/);
    expect(brokerLogin(join(folder, 'deep', 'a.json'))).toEqual(first);
    expect(brokerLogin(join(folder, 'b.json')).password).not.toBe(first.password);
    expect(statSync(join(folder, 'deep', 'a.json')).mode & 0o777).toBe(0o600);
  });
});

describe('the wait before the next try to reach the broker', () => {
  it.each([
    [0, 0, 250],
    [0, 1, 500],
    [3, 1, 4000],
    [5, 1, 16_000],
    [6, 1, 30_000],
    [60, 0, 15_000],
  ])('after %d tries and with chance %d is %d ms', (attempts, random, millis) => {
    expect(retryMillis(attempts, random)).toBe(millis);
  });
});
