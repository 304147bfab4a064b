import { describe, expect, it } from 'vitest';
import { OWASP_COST, passwordRefusal, passwords } from './password.ts';
import { delayMillis } from './throttle.ts';

describe('kept passwords', () => {
  it('are scrypt at N = 2^17, r = 8, p = 1 with a salt of their own', async () => {
    expect(OWASP_COST).toEqual({ logN: 17, r: 8, p: 1 });
    const { hash, matches } = passwords();
    const [first, second] = await Promise.all([hash('amber kettle sings'), hash('amber kettle sings')]);
    expect(first).toMatch(/^scrypt\$17\$8\$1\$[A-Za-z0-9+/=]{24}\$[A-Za-z0-9+/=]{44}$/);
    expect(first).not.toBe(second);
    expect(await matches('amber kettle sings', first)).toBe(true);
    expect(await matches('amber kettle sing', first)).toBe(false);
    expect(await matches('amber kettle sings', null)).toBe(false);
  });

  it('of an earlier, smaller cost still match', async () => {
    const hashed = await passwords({ logN: 5, r: 1, p: 1 }).hash('an older password');
    expect(await passwords({ logN: 6, r: 2, p: 1 }).matches('an older password', hashed)).toBe(true);
  });

  it('match however the same letters were composed', async () => {
    const { hash, matches } = passwords({ logN: 4, r: 1, p: 1 });
    expect(await matches('schl\u0075\u0308ssel ganz lang', await hash('schl\u00fcssel ganz lang'))).toBe(
      true,
    );
  });

  it('are worked out one at a time, and a crowd is turned away', async () => {
    const { hash } = passwords({ logN: 4, r: 1, p: 1 });
    const outcomes = await Promise.allSettled(
      Array.from({ length: 25 }, (_, index) => hash(`password ${index}`)),
    );
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(20);
    expect(outcomes.filter((outcome) => outcome.status === 'rejected')).toHaveLength(5);
  });
});

describe('a new password', () => {
  it.each([
    ['a2c4e6g', false],
    ['a2c4e6g8', true],
    ['x'.repeat(8), false],
    ['correct horse battery', true],
    ['Passwort!!', false],
    ['qwertz123', false],
    ['蝋を溶かす温度計です', true],
    ['ab'.repeat(128), false],
    [`${'abc '.repeat(63)}done`, true],
    [`${'abc '.repeat(63)}done!`, false],
  ])('%s: good enough is %s', (password, isGood) => {
    expect(passwordRefusal(password, []) === null).toBe(isGood);
  });
});

describe('the delay after wrong passwords', () => {
  it.each([
    ['pair', 3, 0],
    ['pair', 4, 1000],
    ['pair', 5, 2000],
    ['pair', 13, 512_000],
    ['pair', 14, 900_000],
    ['pair', 1000, 900_000],
    ['address', 20, 0],
    ['address', 21, 1000],
    ['account', 100, 0],
    ['account', 101, 1000],
  ] as const)('for the %s after failure %i is %i ms', (kind, failures, delay) => {
    expect(delayMillis(kind, failures)).toBe(delay);
  });
});
