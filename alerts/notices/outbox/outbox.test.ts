import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../../lab/database.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import { normalAlarm } from '../../watch/life/alarm-step.ts';
import type { NewRow, OutboxRow, RowKind, SendOutcome } from './outbox-row.ts';
import { type Outbox, openOutbox } from './outbox.ts';
import { nextTryAt, retryAfterMillis } from './retry.ts';
import { outboxRunner } from './runner.ts';
import { ownWords } from './send-answer.ts';

const START = epochMillis(Date.parse('2031-03-04T12:00:00Z'));
const DELIVERED: SendOutcome = { kind: 'delivered', answer: ownWords('accepted') };
const DEAD: SendOutcome = { kind: 'retry', answer: ownWords('does not answer'), retryAfterMillis: null };

let folder: string;
let database: LabDatabase;
let outbox: Outbox;
let now: EpochMillis;
let delivered: string[];
let said: string[];
let gone: string[];

const line = (
  kind: RowKind,
  topic: string,
  channel: NewRow['channel'] = 'push',
  address = 'phone-1',
): NewRow => ({
  key: `${topic}.${kind}>${channel}:${address}`,
  ...{ channel, address, topic, kind },
  person: 'tom',
  body: {
    at: now,
    alarm: {
      ...normalAlarm(
        { rule: 'over-ceiling', subject: topic, subjectKind: 'station', priority: 'high', latches: false },
        now,
      ),
      id: topic,
    },
  },
  createdAt: now,
  nextAt: now,
  expiresAt: epochMillis(now + 3_600_000),
});
const add = (...rows: readonly NewRow[]) => database.transaction(() => outbox.add(rows));
const runner = (answer: (row: OutboxRow) => SendOutcome | Promise<SendOutcome> = () => DELIVERED) => {
  const send = async (row: OutboxRow) => {
    const outcome = await answer(row);
    if (outcome.kind === 'delivered')
      delivered.push(`${row.kind} ${row.topic}${row.isRepeat ? ' again' : ''}`);
    return outcome;
  };
  return outboxRunner({
    outbox,
    senders: { push: send, mail: send, webhook: send, lamp: send },
    now: () => now,
    after: () => () => {},
    onChannel: (channel, works, { values }) =>
      said.push(`${channel} ${works ? 'works' : 'fails'}: ${values.text}`),
    onGone: (row) => gone.push(row.address),
    onTried: () => {},
  });
};
const states = () =>
  [...outbox.newest(500)].reverse().map(({ kind, topic, state }) => `${kind} ${topic} ${state}`);
const pass = (seconds: number) => {
  now = epochMillis(now + seconds * 1000);
};

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'waxwarden-outbox-'));
  database = openDatabase(join(folder, 'lab.sqlite'));
  database.writer.pragma('synchronous = OFF');
  outbox = openOutbox(database);
  now = START;
  [delivered, said, gone] = [[], [], []];
});
afterEach(() => {
  database.close();
  rmSync(folder, { recursive: true });
});

describe('the outbox', () => {
  it('sends each change once to each address, however often it is written', async () => {
    add(line('raised', 'a'));
    add(line('raised', 'a'), line('raised', 'a', 'push', 'phone-2'));
    await runner().runDue();
    add(line('raised', 'a'));
    await runner().runDue();
    expect(delivered).toEqual(['raised a', 'raised a']);
  });

  it('sends what is added in the very moment in which a run ends', async () => {
    const one = runner();
    const run = one.runDue();
    add(line('raised', 'a'));
    await one.runDue();
    await run;
    expect(delivered).toEqual(['raised a']);
  });

  it('lists the newest of one state or of all', async () => {
    const one = runner((row) =>
      row.topic === 'b' ? { kind: 'refused', answer: ownWords('answered 404') } : DELIVERED,
    );
    add(line('raised', 'a'), line('raised', 'b'), line('raised', 'c'));
    await one.runDue();
    const topics = (...asked: Parameters<Outbox['newest']>) =>
      outbox.newest(...asked).map((row) => row.topic);
    expect(topics(9)).toEqual(['c', 'b', 'a']);
    expect(topics(2)).toEqual(['c', 'b']);
    expect(topics(9, 'failed')).toEqual(['b']);
    expect(topics(1, 'delivered')).toEqual(['c']);
    expect(topics(9, 'waiting')).toEqual([]);
  });

  it('is undone with the transaction that it was written in', async () => {
    expect(() =>
      database.transaction(() => {
        outbox.add([line('raised', 'a')]);
        throw new Error('the disk is full');
      }),
    ).toThrow('the disk is full');
    await runner().runDue();
    expect(delivered).toEqual([]);
  });

  it('keeps the order of an address while it fails, and holds up no other address', async () => {
    let isDead = true;
    const one = runner((row) => (row.address === 'hook' && isDead ? DEAD : DELIVERED));
    add(
      line('raised', 'a', 'webhook', 'hook'),
      line('cleared', 'a', 'webhook', 'hook'),
      line('raised', 'b', 'webhook', 'other'),
    );
    await one.runDue();
    expect(delivered).toEqual(['raised b']);
    for (let minute = 0; minute < 50; minute += 1) {
      pass(60);
      await one.runDue();
    }
    isDead = false;
    pass(301);
    await one.runDue();
    expect(delivered).toEqual(['raised b', 'raised a', 'cleared a']);
  });

  it('does not wait for a slow receiver before it sends to the others', async () => {
    let release = (_: SendOutcome): void => {};
    const slow = new Promise<SendOutcome>((resolve) => {
      release = resolve;
    });
    const one = runner((row) => (row.address === 'slow' ? slow : DELIVERED));
    add(line('raised', 'a', 'push', 'slow'));
    const run = one.runDue();
    add(line('raised', 'b', 'push', 'quick'));
    one.wake();
    await expect.poll(() => delivered).toEqual(['raised b']);
    release(DELIVERED);
    await run;
    expect(delivered).toEqual(['raised b', 'raised a']);
  });

  it('lets a newer word replace an older one that a phone has not had, and keeps both for letters', async () => {
    add(line('raised', 'a'), line('raised', 'a', 'mail', 'tom'));
    add(line('cleared', 'a'), line('cleared', 'a', 'mail', 'tom'));
    await runner().runDue();
    expect(delivered.sort()).toEqual(['cleared a', 'cleared a', 'raised a']);
    expect(states()[0]).toBe('raised a withdrawn');
  });

  it('gives up what is too old to be worth sending, and says so', async () => {
    add(line('raised', 'a'));
    pass(3601);
    await runner().runDue();
    expect(delivered).toEqual([]);
    expect(states()).toEqual(['raised a expired']);
  });

  it.each([
    [10, 0],
    [11, 1],
    [200, 1],
  ])('sends %i alarms of ten minutes with %i notices for many', async (count, groups) => {
    for (let index = 0; index < count; index += 1) add(line('raised', `alarm-${index}`));
    await runner().runDue();
    pass(6);
    await runner().runDue();
    const rows = outbox.newest(500).filter(({ state }) => state === 'delivered');
    expect(rows.filter(({ kind }) => kind === 'group')).toHaveLength(groups);
    expect(rows.length).toBe(groups === 0 ? count : 1);
    const all = rows.flatMap(({ topic, body }) => body.grouped?.map(({ id }) => id) ?? [topic]);
    expect(new Set(all).size).toBe(count);
    for (let index = 0; index < count; index += 1) add(line('cleared', `alarm-${index}`));
    delivered = [];
    await runner().runDue();
    expect(delivered).toHaveLength(groups === 0 ? count : 0);
  });

  it('sends the eleventh alarm after a notice for many once the ten minutes are over', async () => {
    for (let index = 0; index < 12; index += 1) add(line('raised', `alarm-${index}`));
    pass(6);
    await runner().runDue();
    expect(delivered).toEqual(['group group']);
    pass(60);
    add(line('raised', 'late'));
    await runner().runDue();
    expect(delivered).toEqual(['group group']);
    pass(600);
    await runner().runDue();
    expect(delivered).toEqual(['group group', 'group group']);
  });

  it('marks as a repeat what was on its way when the process ended, and nothing else', async () => {
    add(line('raised', 'a'), line('raised', 'b', 'push', 'phone-2'));
    const row = outbox.heads()[0];
    if (row === undefined) throw new Error('nothing waits');
    outbox.begin([row.number]);
    await runner().runDue();
    expect(delivered.sort()).toEqual(['raised a again', 'raised b']);
  });

  it('forgets exactly the address that is no more', async () => {
    add(line('raised', 'a'), line('raised', 'b'), line('raised', 'a', 'push', 'phone-2'));
    await runner((row) =>
      row.address === 'phone-1' ? { kind: 'gone', answer: ownWords('410') } : DELIVERED,
    ).runDue();
    expect(gone).toEqual(['phone-1']);
    expect(delivered).toEqual(['raised a']);
    expect(states()).toEqual(['raised a failed', 'raised b withdrawn', 'raised a delivered']);
  });

  it('says once that a channel fails and once that it works again', async () => {
    let isDead = true;
    const one = runner(() => (isDead ? DEAD : DELIVERED));
    add(line('raised', 'a'));
    for (let tries = 0; tries < 8; tries += 1) {
      await one.runDue();
      pass(90);
    }
    expect(said).toEqual(['push fails: does not answer']);
    isDead = false;
    await one.runDue();
    expect(said).toEqual(['push fails: does not answer', 'push works: accepted']);
  });

  it('says at once that a channel is refused', async () => {
    add(line('raised', 'a'));
    await runner(() => ({ kind: 'refused', answer: ownWords('403') })).runDue();
    expect(said).toEqual(['push fails: 403']);
    expect(states()).toEqual(['raised a failed']);
  });
});

describe('the next try', () => {
  it('comes later with each attempt, within a quarter of the plain pause, and the same each time it is worked out', () => {
    fc.assert(
      fc.property(fc.string(), fc.integer({ min: 1, max: 40 }), (key, attempts) => {
        const row = { key, channel: 'push' } as const;
        const pause = nextTryAt(row, attempts, null, START) - START;
        const plain = Math.min(5000 * 2 ** (attempts - 1), 60_000);
        expect(pause).toBeGreaterThanOrEqual(plain * 0.75 - 1);
        expect(pause).toBeLessThanOrEqual(plain * 1.25 + 1);
        expect(nextTryAt(row, attempts, null, START) - START).toBe(pause);
      }),
    );
  });

  it.each([
    ['120', 120_000],
    ['0', 0],
    ['Tue, 04 Mar 2031 12:01:30 GMT', 90_000],
    ['Tue, 04 Mar 2031 11:00:00 GMT', 0],
    ['soon', null],
    ['', null],
    [undefined, null],
  ])('reads Retry-After %j as %j ms', (header, expected) => {
    expect(retryAfterMillis(header, START)).toBe(expected);
  });

  it('is never before the receiver asked for, and at most an hour away', () => {
    const row = { key: 'a', channel: 'push' } as const;
    expect(nextTryAt(row, 1, 120_000, START) - START).toBe(120_000);
    expect(nextTryAt(row, 1, 86_400_000, START) - START).toBe(3_600_000);
  });
});
