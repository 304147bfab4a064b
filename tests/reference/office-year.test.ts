// A real year of an office through the rules as they ship, a reading an hour as it came. The data, its origin and its labels
// are described in tests/data/README.md. Its clock is read as UTC.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { waxWatch } from '../../alerts/watch/wax-watch.ts';
import type { Entry } from '../../lab/entry.ts';
import type { Station } from '../../lab/station.ts';
import { celsius, epochMillis } from '../../wax/units.ts';
import { labOf, probeOf } from '../rehearsal.ts';

const HOUR = 3_600_000;
/** So often time passes; after a quarter of an hour without it the watch would take itself for asleep. */
const TICK = 14 * 60_000;
const utc = (text: string): number => Date.parse(`${text.replace(' ', 'T')}Z`);

const FAILURES = [
  { from: utc('2013-12-15 07:00:00'), to: utc('2013-12-30 09:00:00') },
  { from: utc('2014-03-29 15:00:00'), to: utc('2014-04-20 22:00:00') },
];
/** A swing over a day is still one a day after the place is in order. */
const LINGERS = 24 * HOUR;

const ROWS = readFileSync(join(import.meta.dirname, '../data/ambient-office-hourly-fahrenheit.csv'), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(','))
  .flatMap(([when = '', value = '']) =>
    value.trim() !== '' && Number.isFinite(Number(value))
      ? [{ at: utc(when), celsius: (Number(value) - 32) / 1.8 }]
      : [],
  );

function* year(): Generator<Entry> {
  let tickAt = ROWS[0]?.at ?? 0;
  for (const { at, celsius: value } of ROWS) {
    for (; tickAt < at; tickAt += TICK) yield { kind: 'tick', receivedAt: epochMillis(tickAt) };
    const reading = {
      probe: 'office-air',
      at: epochMillis(at),
      celsius: celsius(value),
      quality: 'good' as const,
    };
    yield { kind: 'readings', receivedAt: epochMillis(at), gateway: 'g1', readings: [reading] };
  }
}

/** Beginnings that people see; each is acknowledged at once. */
function beginningsOf(station: Station): readonly { readonly rule: string; readonly at: number }[] {
  const lab = labOf([station], [probeOf('office-air', station.id)]);
  const beginnings: { rule: string; at: number }[] = [];
  let state = waxWatch.initial();
  for (const entry of year()) {
    const step = waxWatch.step(state, entry, lab);
    state = step.state;
    for (const { alarm } of step.alarmChanges) {
      if (!alarm.active || alarm.acknowledged || alarm.suppressedBy !== null) continue;
      beginnings.push({ rule: alarm.rule, at: entry.receivedAt });
      const act = { type: 'acknowledge', alarm: alarm.id, seenCount: alarm.count, by: 'mira' } as const;
      state = waxWatch.step(state, { kind: 'act', receivedAt: entry.receivedAt, act }, lab).state;
    }
  }
  return beginnings;
}

describe('a year of an office as a room for patterns, by the figures as they ship', () => {
  const beginnings = beginningsOf({ id: 'office', name: 'Office', kind: 'room', wax: 'inlay-type-2' });
  const ofStorage = beginnings.filter(({ rule }) => rule.startsWith('storage-'));

  it.each(FAILURES)('calls somebody in the failure from $from', ({ from, to }) => {
    expect(ofStorage.some(({ at }) => at >= from && at <= to)).toBe(true);
  });

  it('calls for storage less than once a month in the rest of the year', () => {
    const rest = ofStorage.filter(
      ({ at }) => !FAILURES.some(({ from, to }) => at >= from && at <= to + LINGERS),
    );
    const failing = FAILURES.reduce((sum, { from, to }) => sum + to - from, 0);
    const months = ((ROWS.at(-1)?.at ?? 0) - (ROWS[0]?.at ?? 0) - failing) / (730 * HOUR);
    expect(rest.length / months).toBeLessThan(1);
  });

  it('calls for silence only while hours are missing', () => {
    // Until the second reading nothing is known of how often the probe sends.
    const second = ROWS[1]?.at ?? 0;
    const silences = beginnings.filter(({ rule, at }) => rule === 'probe-silent' && at > second);
    expect(silences.length).toBeGreaterThan(0);
    for (const { at } of silences) {
      const newest = ROWS.findLast((row) => row.at <= at)?.at ?? 0;
      expect(at - newest).toBeGreaterThan(5 * HOUR);
    }
  });
});

it('an empty room calls nobody for its temperature', () => {
  const beginnings = beginningsOf({ id: 'office', name: 'Office', kind: 'room', wax: null });
  expect(beginnings.filter(({ rule }) => rule !== 'probe-silent')).toEqual([]);
});
