import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { type LabDatabase, openDatabase } from '../../../lab/database/database.ts';
import { type EpochMillis, epochMillis } from '../../../wax/units.ts';
import type { Alarm } from '../../watch/life/alarm.ts';
import { normalAlarm } from '../../watch/life/alarm-step.ts';
import type { OutboxMessage, NewRow, OutboxRow, RowKind, SendOutcome } from './outbox-row.ts';
import { type Outbox, openOutbox } from './outbox.ts';
import { OUTBOX_STEPS } from './outbox-table.ts';
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
  priority: Alarm['priority'] = 'high',
): NewRow => ({
  key: `${topic}.${kind}>${channel}:${address}`,
  channel,
  address,
  topic,
  kind,
  person: channel === 'webhook' ? null : 'tom',
  body: {
    at: now,
    alarm: {
      ...normalAlarm(
        { rule: 'over-ceiling', subject: topic, subjectKind: 'station', priority, latches: false },
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
  const send = async ({ rows }: OutboxMessage) => {
    const outcome = await answer(rows[0]);
    const words = rows.map((row) => `${row.kind} ${row.topic}${row.isRepeat ? ' again' : ''}`);
    if (outcome.kind === 'delivered') delivered.push(words.join(' + '));
    return outcome;
  };
  return outboxRunner({
    outbox,
    senders: { push: send, mail: send, webhook: send, lamp: send, mqtt: send },
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
    const sender = runner();
    const run = sender.runDue();
    add(line('raised', 'a'));
    await sender.runDue();
    await run;
    expect(delivered).toEqual(['raised a']);
  });

  it('lists the newest of one state or of all', async () => {
    const sender = runner((row) =>
      row.topic === 'b' ? { kind: 'refused', answer: ownWords('answered 404') } : DELIVERED,
    );
    add(line('raised', 'a'), line('raised', 'b'), line('raised', 'c'));
    await sender.runDue();
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
    const sender = runner((row) => (row.address === 'hook' && isDead ? DEAD : DELIVERED));
    add(
      line('raised', 'a', 'webhook', 'hook'),
      line('cleared', 'a', 'webhook', 'hook'),
      line('raised', 'b', 'webhook', 'other'),
    );
    await sender.runDue();
    expect(delivered).toEqual(['raised b']);
    for (let minute = 0; minute < 50; minute += 1) {
      pass(60);
      await sender.runDue();
    }
    isDead = false;
    pass(301);
    await sender.runDue();
    expect(delivered).toEqual(['raised b', 'raised a', 'cleared a']);
  });

  it('does not wait for a slow receiver before it sends to the others', async () => {
    let release = (_: SendOutcome): void => {};
    const slow = new Promise<SendOutcome>((resolve) => {
      release = resolve;
    });
    const sender = runner((row) => (row.address === 'slow' ? slow : DELIVERED));
    add(line('raised', 'a', 'push', 'slow'));
    const run = sender.runDue();
    add(line('raised', 'b', 'push', 'quick'));
    sender.wake();
    await expect.poll(() => delivered).toEqual(['raised b']);
    release(DELIVERED);
    await run;
    expect(delivered).toEqual(['raised b', 'raised a']);
  });

  it('withdraws what a person has not received once newer is known, and sends that it is over', async () => {
    add(line('raised', 'a'), line('raised', 'a', 'mail', 'tom'), line('raised', 'a', 'webhook', 'hook'));
    add(line('cleared', 'a'), line('cleared', 'a', 'mail', 'tom'), line('cleared', 'a', 'webhook', 'hook'));
    await runner().runDue();
    expect(delivered.sort()).toEqual(['cleared a', 'cleared a', 'cleared a', 'raised a']);
    expect(states().slice(0, 3)).toEqual(['raised a withdrawn', 'raised a withdrawn', 'raised a delivered']);
  });

  it('sends the end of an alarm only to those who were to receive its beginning', async () => {
    add(line('cleared', 'a'));
    await runner().runDue();
    expect(states()).toEqual([]);
  });

  it('gives up what is too old to be worth sending, and records that', async () => {
    add(line('raised', 'a'));
    pass(3601);
    await runner().runDue();
    expect(delivered).toEqual([]);
    expect(states()).toEqual(['raised a expired']);
  });

  it.each([
    [10, 10],
    [11, 1],
    [200, 1],
  ])('sends %i alarms that are not urgent within ten minutes in %i messages', async (count, messages) => {
    const sender = runner();
    for (let index = 0; index < count; index += 1) add(line('raised', `alarm-${index}`));
    await sender.runDue();
    pass(6);
    await sender.runDue();
    expect(delivered).toHaveLength(messages);
    const topics = delivered.join(' + ').split(' + ');
    expect(new Set(topics).size).toBe(count);
    expect(topics).toHaveLength(count);
    for (let index = 0; index < count; index += 1) add(line('cleared', `alarm-${index}`));
    delivered = [];
    await sender.runDue();
    expect(delivered).toHaveLength(messages);
  });

  it('sends the next gathered message two minutes after the last, a single alarm as itself', async () => {
    const sender = runner();
    for (let index = 0; index < 12; index += 1) add(line('raised', `alarm-${index}`));
    pass(6);
    await sender.runDue();
    delivered = [];
    pass(60);
    add(line('raised', 'late'));
    await sender.runDue();
    expect(delivered).toEqual([]);
    pass(60);
    await sender.runDue();
    expect(delivered).toEqual(['raised late']);
  });

  it('marks in a gathered message what is over before it went', async () => {
    const sender = runner();
    for (let index = 0; index < 12; index += 1) add(line('raised', `alarm-${index}`));
    add(line('cleared', 'alarm-3'));
    pass(6);
    await sender.runDue();
    expect(delivered).toHaveLength(1);
    expect(delivered[0]).toContain('cleared alarm-3');
    expect(delivered[0]).not.toContain('raised alarm-3');
  });

  it('tries again in the pause that was meant when the clock of the machine is set back by an hour', async () => {
    let isAway = true;
    const sender = runner(() => (isAway ? DEAD : DELIVERED));
    add(line('raised', 'a'));
    await sender.runDue();
    isAway = false;
    pass(-3600);
    outbox.moveBack(3_600_000);
    await sender.runDue();
    expect(delivered).toEqual([]);
    pass(10);
    await sender.runDue();
    expect(delivered).toEqual(['raised a']);
  });

  it('marks as a repeat what was on its way when the process ended, and nothing else', async () => {
    add(line('raised', 'a'), line('raised', 'b', 'push', 'phone-2'));
    const row = outbox.heads()[0];
    if (row === undefined) throw new Error('nothing waits');
    outbox.begin([row]);
    await runner().runDue();
    expect(delivered.sort()).toEqual(['raised a again', 'raised b']);
  });

  it('removes exactly the address that is no more', async () => {
    add(line('raised', 'a'), line('raised', 'b'), line('raised', 'a', 'push', 'phone-2'));
    await runner((row) =>
      row.address === 'phone-1' ? { kind: 'gone', answer: ownWords('410') } : DELIVERED,
    ).runDue();
    expect(gone).toEqual(['phone-1']);
    expect(delivered).toEqual(['raised a']);
    expect(states()).toEqual(['raised a failed', 'raised b withdrawn', 'raised a delivered']);
  });

  it('reports once that a channel fails and once that it works again', async () => {
    let isDead = true;
    const sender = runner(() => (isDead ? DEAD : DELIVERED));
    add(line('raised', 'a'));
    for (let tries = 0; tries < 8; tries += 1) {
      await sender.runDue();
      pass(90);
    }
    expect(said).toEqual(['push fails: does not answer']);
    isDead = false;
    await sender.runDue();
    expect(said).toEqual(['push fails: does not answer', 'push works: accepted']);
  });

  it('reports at once that a channel is refused', async () => {
    add(line('raised', 'a'));
    await runner(() => ({ kind: 'refused', answer: ownWords('403') })).runDue();
    expect(said).toEqual(['push fails: 403']);
    expect(states()).toEqual(['raised a failed']);
  });
});

describe('an outbox of an earlier version', () => {
  it('keeps the alarms of a message for many as rows of one lane, and sends them', async () => {
    const older = openDatabase(join(folder, 'older.sqlite'));
    older.migrate('outbox', OUTBOX_STEPS.slice(0, 1));
    const grouped = ['a', 'b'].map((topic) => line('raised', topic).body.alarm);
    older.writer
      .prepare(
        `INSERT INTO outbox (key, channel, address, person, topic, kind, body, created_at, next_at, expires_at)
         VALUES ('group.a', 'push', 'phone-1', 'tom', 'group', 'group', ?, ?, ?, ?)`,
      )
      .run(JSON.stringify({ at: now, alarm: null, grouped }), now, now, now + 3_600_000);
    outbox = openOutbox(older);
    await runner().runDue();
    expect(delivered).toEqual(['raised a + raised b']);
    expect(outbox.toPeople({ id: 'b', count: grouped[1]?.count ?? 0 })).toHaveLength(1);
    older.close();
  });
});

describe('an urgent alarm', () => {
  const urgent = (topic: string, address = 'phone-1', kind: RowKind = 'raised') =>
    line(kind, topic, 'push', address, 'urgent');

  it('goes at once while a gathered message of the same phone waits', async () => {
    const sender = runner();
    for (let index = 0; index < 14; index += 1) add(line('raised', `pot-${index}`));
    pass(6);
    await sender.runDue();
    pass(24);
    add(line('raised', 'pot-14'));
    add(urgent('fire'));
    await sender.runDue();
    expect(delivered.slice(1)).toEqual(['raised fire']);
  });

  it('waits for no slow or failing send to the same phone', async () => {
    let release = (_: SendOutcome): void => {};
    const slow = new Promise<SendOutcome>((resolve) => {
      release = resolve;
    });
    const sender = runner((row) => {
      if (row.topic === 'slow') return slow;
      return row.topic === 'dead' ? DEAD : DELIVERED;
    });
    add(line('raised', 'dead'));
    await sender.runDue();
    add(urgent('slow'));
    const run = sender.runDue();
    add(urgent('fire'));
    sender.wake();
    await expect.poll(() => delivered).toEqual(['raised fire']);
    release(DELIVERED);
    await run;
    expect(delivered).toEqual(['raised fire', 'raised slow']);
  });

  it('finds the line free however many others are due, and goes before them', async () => {
    let atOnce = 0;
    let most = 0;
    const sender = runner(async (row) => {
      if (row.topic === 'fire') return DELIVERED;
      atOnce += 1;
      most = Math.max(most, atOnce);
      await Promise.resolve();
      atOnce -= 1;
      return DELIVERED;
    });
    for (let phone = 0; phone < 40; phone += 1) add(line('raised', 'pot', 'push', `phone-${phone}`));
    add(urgent('fire'));
    await sender.runDue();
    expect(delivered[0]).toBe('raised fire');
    expect(delivered).toHaveLength(41);
    expect(most).toBe(6);
  });

  it('is begun alone in its channel, and after two seconds without an answer holds up nobody', async () => {
    const waiting = new Map<string, (outcome: SendOutcome) => void>();
    const begun: string[] = [];
    const sender = runner((row) => {
      begun.push(row.topic);
      return new Promise<SendOutcome>((resolve) => waiting.set(row.topic, resolve));
    });
    add(urgent('fire'), line('raised', 'pot', 'push', 'phone-2'), line('raised', 'mail', 'mail', 'tom'));
    const run = sender.runDue();
    await expect.poll(() => begun).toEqual(['fire', 'mail']);
    pass(1);
    sender.wake();
    waiting.get('mail')?.(DELIVERED);
    await expect.poll(() => delivered).toEqual(['raised mail']);
    expect(begun).toEqual(['fire', 'mail']);
    pass(1);
    sender.wake();
    await expect.poll(() => begun).toEqual(['fire', 'mail', 'pot']);
    waiting.get('fire')?.(DELIVERED);
    waiting.get('pot')?.(DELIVERED);
    await run;
    expect(delivered).toHaveLength(3);
  });

  it('goes with those that are due in the same instant, and is tried again with them', async () => {
    let isDead = true;
    const sender = runner(() => (isDead ? DEAD : DELIVERED));
    add(urgent('a'), urgent('b'), urgent('a', 'phone-2'), urgent('b', 'phone-2'));
    await sender.runDue();
    isDead = false;
    pass(4);
    add(urgent('c'));
    await sender.runDue();
    expect(delivered).toEqual(['raised c']);
    pass(3);
    await sender.runDue();
    expect(delivered).toEqual(['raised c', 'raised a + raised b', 'raised a + raised b']);
  });

  it('is sent to a machine by itself, in order with what follows of the same alarm', async () => {
    let isDead = true;
    const sender = runner(() => (isDead ? DEAD : DELIVERED));
    add(
      line('raised', 'a', 'webhook', 'hook', 'urgent'),
      line('raised', 'b', 'webhook', 'hook', 'urgent'),
      line('cleared', 'a', 'webhook', 'hook', 'urgent'),
    );
    await sender.runDue();
    isDead = false;
    pass(7);
    await sender.runDue();
    expect(delivered.sort()).toEqual(['cleared a', 'raised a', 'raised b']);
  });
});
