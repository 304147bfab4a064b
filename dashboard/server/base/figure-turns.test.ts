import { setTimeout } from 'node:timers/promises';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type ServerForTests, serverForTests } from '../../../tests/server-for-tests.ts';
import { figureTurns } from './figure-turns.ts';

const reader = { owner: null, mayRefuse: true };

describe('figures of sheets', () => {
  it('are made one at a time in the order in which they were requested, and what else is due comes in between', async () => {
    const done: string[] = [];
    const take = figureTurns(async (millis) => {
      expect(millis).toBeGreaterThan(0);
      // What a rule has to do meanwhile.
      await setTimeout(1);
      done.push('alarm');
    });
    const work = (name: string) =>
      take(reader, async () => {
        done.push(`${name} begins`);
        await setTimeout(1);
        done.push(`${name} ends`);
      });
    await Promise.all(['a', 'b', 'c'].map(work));
    expect(done).toEqual([
      ...['a begins', 'a ends', 'alarm', 'b begins', 'b ends', 'alarm', 'c begins', 'c ends'],
    ]);
  });

  it('go on after one that failed, and its reason is given to its requester', async () => {
    const take = figureTurns();
    const failing = take(reader, () => Promise.reject(new Error('no such night')));
    const next = take(reader, async () => 'made');
    await expect(failing).rejects.toThrow('no such night');
    expect(await next).toBe('made');
  });

  it('are refused to whoever waits for four, and to everybody beyond twenty in all', async () => {
    const take = figureTurns();
    let finish = (): void => {};
    const held = new Promise<void>((resolve) => {
      finish = resolve;
    });
    const ask = (owner: string | null) => take({ owner, mayRefuse: true }, () => held);
    const asked = ['tom', 'ida', 'mara', null].flatMap((owner) =>
      Array.from({ length: owner === null ? 7 : 4 }, () => ask(owner)),
    );
    await expect(ask('tom')).rejects.toMatchObject({
      code: 'sheets-waiting',
      extras: { values: { most: 4 } },
    });
    asked.push(ask(null));
    await expect(ask('jo')).rejects.toMatchObject({
      code: 'sheets-waiting',
      extras: { values: { most: 20 } },
    });
    finish();
    await Promise.all(asked);
    expect(await take({ owner: 'tom', mayRefuse: true }, async () => 'made')).toBe('made');
  });

  it('that follow what was saved are never refused', async () => {
    const take = figureTurns();
    const asked = Array.from({ length: 30 }, () =>
      take({ owner: 'person tom', mayRefuse: false }, async () => 'made'),
    );
    expect(new Set(await Promise.all(asked))).toEqual(new Set(['made']));
  });
});

describe('sheets that one person requests all at once', () => {
  let test: ServerForTests;
  beforeEach(async () => {
    test = await serverForTests({ demo: false });
  });
  afterEach(() => test.close());

  it.each(['/api/night', '/api/month', '/api/evidence?from=2031-03-03&to=2031-03-03'])(
    'are refused beyond a share on %s, and another person gets one meanwhile',
    async (path) => {
      const mara = await test.manager();
      const tom = await test.person(mara, 'manager', 'Tom');
      const flood = Array.from({ length: 30 }, () => mara.send('GET', path));
      const other = tom.send('GET', path);
      const codes = (await Promise.all(flood)).map(({ statusCode }) => statusCode);
      expect(new Set(codes)).toEqual(new Set([200, 503]));
      expect((await other).statusCode).toBe(200);
    },
  );
});
