import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Site } from '../../../lab/lab.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { AlarmChange } from '../life/alarm.ts';
import { type AlarmEvent, alarmStep, normalAlarm } from '../life/alarm-step.ts';
import { alarmQuality, quantile } from './alarm-quality.ts';
import { floods } from './floods.ts';
import type { QualityFigureName } from './targets.ts';

const START = epochMillis(Date.parse('2031-03-03T00:00:00Z'));
const later = (millis: number): EpochMillis => epochMillis(START + millis);
const site: Site = {
  id: 's',
  name: 'S',
  timeZone: 'Europe/Berlin',
  workingHours: { mon: [['08:00', '17:00']], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [] },
  holidays: [],
};

/** One point's changes, from events in seconds after the start. */
const course = (
  events: readonly (readonly [seconds: number, AlarmEvent['type'] | 'ack' | 'shelve'])[],
  subject = 'pot-1',
): readonly AlarmChange[] => {
  let alarm = normalAlarm(
    { rule: 'over-ceiling', subject, subjectKind: 'station', priority: 'high', latches: false },
    START,
  );
  return events.flatMap(([seconds, type]) => {
    const at = later(seconds * 1000);
    const who = { alarm: alarm.id, by: 'mara' };
    const event: AlarmEvent =
      type === 'ack'
        ? { type: 'act', at, act: { ...who, type: 'acknowledge' } }
        : type === 'shelve'
          ? {
              type: 'act',
              at,
              act: { ...who, type: 'shelve', until: epochMillis(at + 3_600_000), reason: 'mended' },
            }
          : type === 'begins'
            ? { type, at, tense: 'now', evidence: {} }
            : type === 'suppress'
              ? { type, at, reason: 'standby' }
              : ({ type, at } as AlarmEvent);
    const step = alarmStep(alarm, event);
    alarm = step.alarm;
    return step.changes;
  });
};
const judged = (changes: readonly AlarmChange[], days = 1) =>
  alarmQuality({
    from: START,
    to: later(days * MILLIS_PER_DAY),
    site,
    changes: [...changes].sort((a, b) => a.at - b.at),
    open: [],
  });
const figure = (changes: readonly AlarmChange[], name: QualityFigureName, days = 1) =>
  judged(changes, days).figures.find((each) => each.name === name)?.value;

describe('what counts as an alarm', () => {
  it('is each time it needs attention: raised, raised again after it was over, brought back from the shelf', () => {
    const changes = course([
      [0, 'begins'],
      [60, 'ends'],
      [120, 'begins'],
      [180, 'shelve'],
      [4000, 'time'],
    ]);
    expect(judged(changes).announced).toBe(3);
  });
  it('is not what the logic hides from the first moment', () => {
    expect(
      judged(
        course([
          [0, 'suppress'],
          [1, 'begins'],
        ]),
      ).announced,
    ).toBe(0);
    expect(
      judged(
        course([
          [0, 'suppress'],
          [1, 'begins'],
          [9, 'unsuppress'],
        ]),
      ).announced,
    ).toBe(1);
  });
  it('begins with the span and ends before its end', () => {
    const day = MILLIS_PER_DAY / 1000;
    expect(judged(course([[-1, 'begins']])).announced).toBe(0);
    expect(judged(course([[0, 'begins']])).announced).toBe(1);
    expect(judged(course([[day - 1, 'begins']])).announced).toBe(1);
    expect(judged(course([[day, 'begins']])).announced).toBe(0);
  });
});

describe('chattering', () => {
  it.each([
    [60, 1],
    [61, 0],
  ])('is three within sixty seconds: the third after %d s makes %d', (third, points) => {
    const changes = course([
      [0, 'begins'],
      [5, 'ends'],
      [20, 'begins'],
      [25, 'ends'],
      [third, 'begins'],
    ]);
    expect(figure(changes, 'chattering')).toBe(points);
  });
  it('is not two, and not three of different places', () => {
    expect(
      figure(
        course([
          [0, 'begins'],
          [5, 'ends'],
          [20, 'begins'],
        ]),
        'chattering',
      ),
    ).toBe(0);
    const three = ['a', 'b', 'c'].flatMap((subject) => course([[0, 'begins']], subject));
    expect(figure(three, 'chattering')).toBe(0);
  });
});

describe('fleeting', () => {
  it.each([
    [59, 1],
    [60, 0],
  ])('is over within a minute: after %d s makes %d', (over, count) => {
    expect(
      figure(
        course([
          [0, 'begins'],
          [over, 'ends'],
        ]),
        'fleeting',
      ),
    ).toBe(count);
  });
  it('is not what was acknowledged, nor what comes back at once', () => {
    expect(
      figure(
        course([
          [0, 'begins'],
          [5, 'ack'],
          [10, 'ends'],
        ]),
        'fleeting',
      ),
    ).toBe(0);
    const back = (seconds: number) =>
      course([
        [0, 'begins'],
        [10, 'ends'],
        [seconds, 'begins'],
        [999, 'ends'],
      ]);
    expect(figure(back(69), 'fleeting')).toBe(0);
    expect(figure(back(70), 'fleeting')).toBe(1);
  });
});

describe('stale', () => {
  it.each([
    [86_400, 0],
    [86_401, 1],
  ])('is so for more than 24 h: %d s makes %d', (over, count) => {
    expect(
      figure(
        course([
          [0, 'begins'],
          [over, 'ends'],
        ]),
        'stale-on-a-day',
        3,
      ),
    ).toBe(count);
  });
  it('is known of an alarm that was raised long before the span and only ends in it', () => {
    const changes = course([
      [-200_000, 'begins'],
      [3600, 'ends'],
    ]).slice(1);
    expect(figure(changes, 'stale-on-a-day')).toBe(1);
  });
  it('is known of an alarm that did not change in the span at all', () => {
    const alarm = course([[-200_000, 'begins']]).map((change) => change.alarm);
    const quality = alarmQuality({ from: START, to: later(MILLIS_PER_DAY), site, changes: [], open: alarm });
    expect(quality.contributors).toMatchObject([{ subject: 'pot-1', count: 0, stale: 1 }]);
  });
});

describe('a flood', () => {
  const every = (seconds: number, count: number) =>
    Array.from({ length: count }, (_, index) => later(index * seconds * 1000));
  const end = later(MILLIS_PER_DAY);
  it('begins with the tenth in ten minutes, not with nine, not when the first is ten minutes old', () => {
    expect(floods(every(60, 9), end)).toEqual([]);
    expect(floods(every(66, 10), end)).toHaveLength(1);
    expect(floods([...every(60, 9), later(10 * MILLIS_PER_MINUTE)], end)).toEqual([]);
  });
  it('ends when fewer than five lie in the last ten minutes', () => {
    const [flood] = floods(every(1, 10), end);
    expect(flood).toEqual({ from: later(9000), to: later(5000 + 600_000), count: 10 });
  });
  it('goes on while five do', () => {
    const before = [...every(1, 10), later(604_999)];
    expect(floods(before, end)).toMatchObject([{ count: 11 }]);
    expect(floods([...every(1, 10), later(605_000)], end)).toMatchObject([{ count: 10 }]);
  });
  it('that has not ended is cut at the end of the span', () => {
    expect(floods(every(1, 10), later(60_000))).toMatchObject([{ to: later(60_000) }]);
  });
  it('never overlaps another, holds at least ten, and lies in the span', () => {
    const gaps = fc.array(fc.integer({ min: 0, max: 300_000 }), { maxLength: 80 });
    fc.assert(
      fc.property(gaps, (steps) => {
        let at = 0;
        const times = steps.map((step) => {
          at += step;
          return later(at);
        });
        const found = floods(times, later(at + 1));
        for (const [index, flood] of found.entries()) {
          expect(flood.to).toBeGreaterThan(flood.from);
          expect(flood.count).toBeGreaterThanOrEqual(10);
          const next = found[index + 1];
          if (next !== undefined) expect(next.from).toBeGreaterThanOrEqual(flood.to);
        }
      }),
    );
  });
});

describe('the figures of a span', () => {
  it('take the time to acknowledge from the announcement, as a time that somebody took', () => {
    const changes = [30, 60, 600].flatMap((seconds, index) =>
      course(
        [
          [0, 'begins'],
          [seconds, 'ack'],
        ],
        `p${index}`,
      ),
    );
    expect(figure(changes, 'acknowledged-median')).toBe(60);
    expect(figure(changes, 'acknowledged-p90')).toBe(600);
    expect(figure([...changes, ...course([[0, 'begins']], 'q')], 'never-acknowledged')).toBe(1);
    expect(quantile([], 0.5)).toBeNull();
  });
  it('name who put what aside and why, and that none did without', () => {
    const changes = course([
      [0, 'begins'],
      [30, 'shelve'],
    ]);
    expect(judged(changes).hidden).toMatchObject([{ kind: 'shelved', by: 'mara', reason: 'mended' }]);
    expect(figure(changes, 'unauthorised-changes')).toBe(0);
    const nameless = changes.map((change) => ({ ...change, by: null }));
    expect(figure(nameless, 'unauthorised-changes')).toBe(1);
  });
  it.each([
    [29, false],
    [30, true],
  ])('are a basis for the targets from thirty days on: %d days', (days, isBasis) => {
    expect(judged([], days).isBasis).toBe(isBasis);
  });
  it.each([
    [150, true],
    [151, false],
  ])('hold the target while they are at most it: %d a day', (count, isHeld) => {
    const changes = Array.from({ length: count }, (_, index) =>
      course([[index * 500, 'begins']], `p${index}`),
    ).flat();
    expect(judged(changes).figures.find(({ name }) => name === 'per-day')).toMatchObject({
      value: count,
      holds: isHeld,
    });
  });
  it.each([
    ['too few alarms for any of its shares to hold', 3, null],
    ['alarms enough, a share of the ten most frequent', 250, true],
  ])('of %s, judge the share accordingly', (_, count, isHeld) => {
    const changes = Array.from({ length: count }, (_each, index) =>
      course([[index * 300, 'begins']], `p${index}`),
    ).flat();
    expect(judged(changes).figures.find(({ name }) => name === 'top-ten-share')).toMatchObject({
      value: Math.min(10, count) / count,
      holds: isHeld,
    });
  });
  it('tell working hours from the rest in the zone of the lab', () => {
    const at = (time: string) => (Date.parse(`2031-03-03T${time}Z`) - START) / 1000;
    const inside = course([[at('07:00:00'), 'begins']], 'a');
    const outside = course([[at('06:59:59'), 'begins']], 'b');
    expect(judged([...inside, ...outside])).toMatchObject({ busiest: { shift: 1 } });
    expect(figure([...inside, ...outside], 'per-closed-stretch')).toBe(0.5);
  });
  it('add up: days, contributors and shares account for every announcement', () => {
    const point = fc.record({
      subject: fc.constantFrom('a', 'b', 'c'),
      seconds: fc.uniqueArray(fc.integer({ min: 0, max: 3 * 86_400 - 1 }), { maxLength: 30 }),
    });
    fc.assert(
      fc.property(fc.uniqueArray(point, { selector: ({ subject }) => subject }), (points) => {
        const changes = points.flatMap(({ subject, seconds }) =>
          course(
            [...seconds]
              .sort((a, b) => a - b)
              .map((each, index) => [each, index % 2 === 0 ? 'begins' : 'ends'] as const),
            subject,
          ),
        );
        const quality = judged(changes, 3);
        const sum = (counts: readonly number[]) => counts.reduce((all, count) => all + count, 0);
        const raised = changes.filter(({ kind }) => kind.startsWith('raised')).length;
        expect(quality.announced).toBe(raised);
        expect(sum(quality.daily.map(({ count }) => count))).toBe(raised);
        expect(sum(quality.contributors.map(({ count }) => count))).toBe(raised);
        const shares = sum(quality.contributors.map(({ share }) => share));
        expect(shares).toBeCloseTo(raised === 0 ? 0 : 1, 9);
        for (const { value, name } of quality.figures)
          if (name.endsWith('share') && value !== null) expect(value).toBeLessThanOrEqual(1);
      }),
    );
  });
});
