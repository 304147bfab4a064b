// A wrong clock hides no heat, and a backlog with heat in it is past: gateways whose stamps are off, from the reading to
// the alarm.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import type { Quality } from '../../lab/reading.ts';
import { instant, potLab, qualifyEntries, readingOf, tickAt } from '../../tests/rehearsal.ts';
import { waxWatch } from './wax-watch.ts';

const HOUR = 3600;
const lab = potLab();
const run = (entries: readonly Entry[]) =>
  waxWatch.stepAll(waxWatch.initial(), qualifyEntries(entries, lab), lab);

/** A pot every ten seconds: at 90 °C, from second 900 on at 160 °C; `offset` in seconds of what the gateway stamps. */
const pot = (
  { from = 0, to = 960 }: { from?: number; to?: number },
  offset: (second: number) => number,
  quality: Quality = 'good',
): readonly Entry[] => {
  const entries: Entry[] = [];
  for (let second = from; second <= to; second += 10)
    entries.push(
      readingOf('p1', second + offset(second), second < 900 ? 90 : 160, { arrives: second, quality }),
      tickAt(second + 1),
    );
  return entries;
};
/** Seconds from the first hot reading until the alarm was raised as present; null when it never was. */
const raisedAfter = (entries: readonly Entry[], rule: 'fire-risk' | 'over-ceiling', hotFrom: number) => {
  let state = waxWatch.initial();
  for (const entry of qualifyEntries(entries, lab)) {
    const step = waxWatch.step(state, entry, lab);
    state = step.state;
    const isRaised = step.alarmChanges.some(
      ({ kind, alarm }) => kind.startsWith('raised') && alarm.rule === rule && alarm.tense === 'now',
    );
    if (isRaised) return (entry.receivedAt - instant(hotFrom)) / 1000;
  }
  return null;
};

describe.each([
  { clock: 'is right', offset: () => 0 },
  { clock: 'is an hour ahead', offset: () => HOUR },
  { clock: 'is an hour behind', offset: () => -HOUR },
  { clock: 'is ahead and set right in between', offset: (second: number) => (second < 600 ? HOUR : 0) },
  { clock: 'is behind and set right in between', offset: (second: number) => (second < 600 ? -HOUR : 0) },
  { clock: 'is set wrong in between', offset: (second: number) => (second < 600 ? 0 : -HOUR) },
  { clock: 'is set right as the wax gets hot', offset: (second: number) => (second < 900 ? HOUR : 0) },
])('a pot at 160 °C behind a gateway whose clock $clock', ({ offset }) => {
  it.each(['fire-risk', 'over-ceiling'] as const)('raises %s live with its second hot reading', (rule) => {
    expect(raisedAfter(pot({}, offset), rule, 900)).toBe(10);
  });

  it('stands hot on the wall', () => {
    const { state } = run(pot({}, offset));
    expect(waxWatch.statuses(state, lab)).toMatchObject([{ condition: 'fire-risk', celsius: 160 }]);
  });

  it('and is hot from its first reading on is announced within half a minute', () => {
    const seconds = raisedAfter(pot({ from: 900 }, offset), 'fire-risk', 900);
    expect(seconds).toBeGreaterThan(0);
    expect(seconds).toBeLessThanOrEqual(30);
  });
});

it.each([
  { clock: 'always stood still', still: (second: number) => -second },
  { clock: 'was never set and stands still', still: (second: number) => -instant(second) / 1000 },
  { clock: 'stopped five minutes ago', still: (second: number) => (second < 600 ? 0 : 600 - second) },
])('a pot at 160 °C whose readings are all alike, behind a clock that $clock, is announced', ({ still }) => {
  const seconds = raisedAfter(pot({}, still), 'fire-risk', 900);
  expect(seconds).toBeGreaterThan(0);
  expect(seconds).toBeLessThanOrEqual(30);
});

it.each([45, 85])(
  'a pot at 160 °C behind a network that delays by up to %d s is live with its second hot reading',
  (most) => {
    let last = 0;
    const delayed = pot({}, () => 0)
      .filter(({ kind }) => kind === 'readings')
      .map((entry, index) => {
        last = Math.max(last + 0.01, index * 10 + (most * ((index * 37) % 100)) / 100);
        return { ...entry, receivedAt: instant(last) };
      });
    const second = delayed[91]?.receivedAt ?? 0;
    expect(raisedAfter(delayed, 'fire-risk', 900)).toBeCloseTo((second - instant(900)) / 1000, 6);
  },
);

it('a pot at 160 °C behind a gateway without a clock raises its alarms live', () => {
  const timeless = pot({}, () => 0, 'uncertain-time');
  expect(raisedAfter(timeless, 'fire-risk', 900)).toBe(10);
});

describe('a steady pot, read each minute, that sends the same value as before', () => {
  const steady = (from: number, to: number, offset: number) =>
    Array.from({ length: (to - from) / 60 }, (_, index) => {
      const second = from + index * 60;
      return readingOf('p1', second + offset, 160, { arrives: second });
    });
  const taken = (entries: readonly Entry[]) => qualifyEntries(entries, lab);

  it('behind a clock that is set back by an hour is live again within six readings', () => {
    const entries = taken([...steady(0, 2 * HOUR, 2 * HOUR), ...steady(2 * HOUR, 3 * HOUR, HOUR)]);
    const after = entries.filter(({ receivedAt }) => receivedAt >= instant(2 * HOUR));
    expect(after.length).toBeGreaterThanOrEqual(54);
    expect(after.map((entry) => entry.kind === 'readings' && entry.timing)).not.toContain('past');
  });
  it('is not live by what is delivered again at once', () => {
    const before = steady(0, 2 * HOUR, 0);
    const again = before.map((entry, index) => ({ ...entry, receivedAt: instant(2 * HOUR + index / 50) }));
    expect(taken([...before, ...again])).toHaveLength(before.length);
  });
});

describe('a pot at 160 °C behind two gateways', () => {
  it('is announced within three and a half minutes after the first of them fell silent', () => {
    const second = pot({}, () => 0).filter((entry) => entry.kind === 'readings');
    const entries = [
      ...pot({ to: 890 }, () => 0),
      ...second.map((entry) => ({ ...entry, gateway: 'g2' })),
      ...Array.from({ length: 40 }, (_, index) => readingOf('p1', 970 + index * 10, 160, { gateway: 'g2' })),
    ].sort((a, b) => a.receivedAt - b.receivedAt);
    expect(raisedAfter(entries, 'fire-risk', 890)).toBeLessThanOrEqual(210);
  });
});

describe('a backlog with heat in it', () => {
  /** An hour at 160 °C that was kept back, within a second of arrival. */
  const backlog = (arrives: number, from: number): readonly Entry[] =>
    Array.from({ length: 360 }, (_, index) =>
      readingOf('p1', from + index * 10, 160, { arrives: arrives + index / 400 }),
    );
  const liveTenses = (entries: readonly Entry[]) =>
    run(entries)
      .findings.filter(({ rule, phase }) => phase === 'begins' && /fire-risk|over-ceiling/.test(rule))
      .map(({ tense }) => tense);

  it('is past when a gateway begins with it', () => {
    const tenses = liveTenses([...backlog(4 * HOUR, 0), tickAt(4 * HOUR + 2)]);
    expect(tenses.length).toBeGreaterThan(0);
    expect(tenses).not.toContain('now');
  });

  it('is past when it comes in the middle of live readings, which stay live', () => {
    const calm = (from: number, to: number) => pot({ from, to }, () => 0);
    const later = (from: number) =>
      Array.from({ length: 20 }, (_, index) => readingOf('p1', from + index * 10, 90));
    const entries = [
      ...calm(0, 300),
      ...later(5 * HOUR),
      ...backlog(5 * HOUR + 195, HOUR),
      ...later(5 * HOUR + 200),
      tickAt(5 * HOUR + 400),
    ];
    const step = run(entries);
    expect(liveTenses(entries)).not.toContain('now');
    const learned = step.alarmChanges.filter(
      ({ kind, alarm }) => kind === 'learned' && alarm.subject === 'pot-1',
    );
    expect(learned.map(({ alarm }) => [alarm.rule, alarm.raisedAt, alarm.clearedAt])).toEqual([
      ['fire-risk', instant(HOUR), instant(2 * HOUR - 10)],
    ]);
    const hot = waxWatch.openAlarms(step.state).filter(({ rule }) => /fire-risk|over-ceiling/.test(rule));
    expect(hot.filter(({ active }) => active)).toEqual([]);
    expect(waxWatch.statuses(step.state, lab)).toMatchObject([{ celsius: 90 }]);
  });

  it('is past when its gateway marks it as past, whatever its instants', () => {
    const historical = Array.from({ length: 20 }, (_, index) => ({
      ...readingOf('p1', 310 + index * 10, 160),
      isHistorical: true,
    }));
    const tenses = liveTenses([...pot({ to: 300 }, () => 0), ...historical]);
    expect(tenses.length).toBeGreaterThan(0);
    expect(tenses).not.toContain('now');
  });

  it('is announced as present as soon as it still is', () => {
    const still = [0, 10, 20].map((second) => readingOf('p1', 4 * HOUR + second, 160));
    expect(liveTenses([...backlog(4 * HOUR - 60, 2.9 * HOUR), ...still])).toContain('now');
  });

  it('is past behind a gateway whose clock is known to be an hour behind', () => {
    const behind = pot({ to: 600 }, () => -HOUR);
    const tenses = liveTenses([
      ...behind,
      ...backlog(601, -4 * HOUR),
      ...pot({ from: 610, to: 800 }, () => -HOUR),
    ]);
    expect(tenses).not.toContain('now');
  });
});

describe('the clock of the collector', () => {
  /** The gateway is right; the collector's own clock is off by so much. */
  const collector = (offset: (second: number) => number): readonly Entry[] =>
    pot({}, () => 0).map((entry) => {
      const second = (entry.receivedAt - instant(0)) / 1000;
      return { ...entry, receivedAt: instant(second + offset(second)) };
    });
  it.each([
    { clock: 'is set forward by an hour', offset: (second: number) => (second < 600 ? 0 : HOUR) },
    { clock: 'is set back by an hour', offset: (second: number) => (second < 600 ? 0 : -HOUR) },
    { clock: 'was ahead and is set right', offset: (second: number) => (second < 600 ? HOUR : 0) },
    { clock: 'was behind and is set right', offset: (second: number) => (second < 600 ? -HOUR : 0) },
  ])('that $clock hides no heat', ({ offset }) => {
    const raised = run(collector(offset)).alarmChanges.filter(
      ({ kind, alarm }) => kind.startsWith('raised') && alarm.rule === 'fire-risk' && alarm.tense === 'now',
    );
    expect(raised.length).toBeGreaterThan(0);
  });
});
