// What machines are sent, against the page that describes it to them.

import { createHmac } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { at, labWith } from '../../../tests/duty-for-tests.ts';
import type { Lab } from '../../../lab/lab.ts';
import { ALARM_CHANGE_KINDS } from '../../watch/life/alarm.ts';
import { normalAlarm } from '../../watch/life/alarm-step.ts';
import type { OutboxRow } from '../outbox/outbox-row.ts';
import { changeFacts, signMessage } from './change-message.ts';

const page = readFileSync(new URL('../../../docs/phone.md', import.meta.url), 'utf8');
const [, section = ''] = /## A change of an alarm, for machines\n([\s\S]+?)\n## /.exec(page) ?? [];
const codesIn = (text: string): readonly string[] =>
  [...text.matchAll(/`([a-z_-]+)`/g)].map(([, code = '']) => code);
const rows = section.split('\n').filter((line) => line.startsWith('| `'));
const described = rows.flatMap((row) => codesIn(row.split('|')[1] ?? ''));

const NOW = at('2031-03-04T12:00:00Z');
const identity = { rule: 'over-ceiling', subject: 'pot-1', subjectKind: 'station' } as const;
const row: OutboxRow = {
  number: 1,
  key: 'k',
  channel: 'mqtt',
  address: 'a',
  person: null,
  topic: 't',
  lane: '',
  kind: 'change',
  state: 'sending',
  attempts: 0,
  isRepeat: false,
  answer: null,
  endedAt: null,
  createdAt: NOW,
  nextAt: NOW,
  expiresAt: NOW,
  body: {
    at: NOW,
    alarm: normalAlarm({ ...identity, priority: 'high', latches: false }, NOW),
    change: { kind: 'raised', by: null, reason: null },
  },
};

describe('a change of an alarm, as machines get it', () => {
  it('has every field that the page describes and no other', () => {
    expect(Object.keys(changeFacts(row, labWith({}))).sort()).toEqual([...described].sort());
  });

  it('names a pattern by its id alone', () => {
    const subject = { rule: 'pattern-due', subject: 'K7Q2', subjectKind: 'pattern' } as const;
    const alarm = normalAlarm({ ...subject, priority: 'low', latches: false }, NOW);
    const pattern = { id: 'K7Q2', caseReference: 'Case 41' } as Lab['patterns'][number];
    const { message } = changeFacts(
      { ...row, body: { ...row.body, alarm } },
      { ...labWith({}), patterns: [pattern] },
    );
    expect(message).toMatch(/^K7Q2 \(/);
  });

  it('is of a kind that the page lists', () => {
    const kinds = rows.find((line) => line.startsWith('| `kind`'))?.split('|')[2] ?? '';
    const listed = codesIn(kinds).filter((code) => !code.includes('_'));
    expect([...new Set(listed)].sort()).toEqual([...ALARM_CHANGE_KINDS, 'test'].sort());
  });

  it('over MQTT is signed so that the recipe of the page finds the signature right, and wrong after any change', () => {
    const message = signMessage(changeFacts(row, labWith({})), 'secret', 1_930_000_000);
    const isSigned = (text: string): boolean => {
      const { signature, signed_at } = JSON.parse(text) as { signature: string; signed_at: number };
      const rest = text.replace(`,"signature":"${signature}"`, '');
      return signature === createHmac('sha256', 'secret').update(`${signed_at} ${rest}`).digest('hex');
    };
    expect(isSigned(message)).toBe(true);
    expect(isSigned(message.replace('"high"', '"low"'))).toBe(false);
  });
});
