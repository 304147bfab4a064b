import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import { actAt, instant, potLab, readingOf, tickAt } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { HOUR, every, run, begun } from '../../../tests/pot-runs.ts';

describe('outside the working window', () => {
  // Half an hour to settle, then twenty minutes of delay.
  it.each([
    { celsius: 84.9, until: 2990, raised: false },
    { celsius: 84.9, until: 3000, raised: true },
    { celsius: 85, until: 2 * HOUR, raised: false },
    { celsius: 95, until: 2 * HOUR, raised: false },
    { celsius: 95.1, until: 2990, raised: false },
    { celsius: 95.1, until: 3000, raised: true },
  ])('$celsius °C for $until s in working hours: $raised', ({ celsius, until, raised }) => {
    const entries = [readingOf('p1', 0, 90), ...every(10, 10, until, () => celsius)];
    expect(begun(entries).includes('outside-window')).toBe(raised);
  });
  it.each([
    { middle: 93, raised: false },
    { middle: 96.5, raised: true },
  ])(
    'is judged by its mean under a thermostat that swings by 6 °C around $middle °C: $raised',
    ({ middle, raised }) => {
      const swinging = every(10, 0, 2 * HOUR, (second) => middle + 3 * Math.sin(second / 60));
      expect(begun(swinging).includes('outside-window')).toBe(raised);
    },
  );
  it('is called for once where work takes a pot as far below it each day, and anew where it takes it further', () => {
    // Wednesday to Friday and Monday, two hours of each.
    const lows = [
      { day: 0, low: 82 },
      { day: 1, low: 82.4 },
      { day: 2, low: 81.6 },
      { day: 5, low: 80.5 },
    ];
    const days = lows.flatMap(({ day, low }) =>
      every(30, day * 24 * HOUR, day * 24 * HOUR + 8 * HOUR, (second) => {
        const hour = (second % (24 * HOUR)) / HOUR;
        return hour > 3 && hour < 5 ? low : 90;
      }),
    );
    const { findings } = run(days);
    const calls = findings.filter(({ rule, phase }) => rule === 'outside-window' && phase === 'begins');
    expect(calls.map(({ at }) => Math.floor((at - instant(0)) / 86_400_000))).toEqual([0, 5]);
  });
  it('is patient while a pot warms up, for as long as the station allows', () => {
    // Past 35 °C at 433 s, and steady below its window from 2000 s on; then twenty minutes of delay.
    const slow = every(10, 0, 7500, (second) => Math.min(22 + 0.03 * second, 82));
    const upTo = (second: number) => slow.slice(0, second / 10);
    const brisk = potLab(1, { 'outside-window': { warm_up_minutes: 30 } });
    expect(begun(upTo(6900))).not.toContain('outside-window');
    expect(begun(slow)).toContain('outside-window');
    expect(begun(upTo(3300), brisk)).not.toContain('outside-window');
    expect(begun(upTo(4500), brisk)).toContain('outside-window');
  });
  it('is not raised at a pot that was planned off, nor of one that cools and cools', () => {
    const off = actAt(61, { type: 'planned-off', station: 'pot-1', by: 'Mira' });
    const steady = every(10, 70, 6000, (second) => Math.max(82, 90 - second / 60));
    const cooling = every(10, 70, 6000, (second) => 22 + 68 * Math.exp(-second / 3600));
    const before = every(10, 0, 60, () => 90);
    expect(begun([...before, ...steady])).toContain('outside-window');
    expect(begun([...before, off, ...steady])).not.toContain('outside-window');
    expect(begun([...before, ...cooling])).not.toContain('outside-window');
  });
});

describe('left on after closing', () => {
  // 09:00 is second 0; the lab closes at 18:00.
  const CLOSES = 9 * HOUR;
  const thermostat = (second: number) => 90 + 2 * Math.sin(second / 60);
  it('is raised of a pot that its thermostat still keeps warm', () => {
    const entries = every(30, CLOSES - 2 * HOUR, CLOSES + HOUR, thermostat);
    expect(begun(entries)).toContain('left-on');
    expect(begun(entries.slice(0, -60))).not.toContain('left-on');
  });
  it.each(['leave-on-overnight', 'staying-late-until', 'preheat-at'] as const)(
    'hides behind %s until its time is up, and then comes out',
    (kind) => {
      const until = instant(CLOSES + 2 * HOUR);
      const meant = actAt(CLOSES - HOUR, { type: 'intent', station: 'pot-1', by: 'Mira', kind, until });
      const day = every(30, CLOSES - 2 * HOUR, CLOSES + 4 * HOUR, thermostat);
      const half = day.filter(({ receivedAt }) => receivedAt < until);
      const raised = (entries: readonly Entry[]) =>
        waxWatch
          .openAlarms(run([...entries, meant].sort((a, b) => a.receivedAt - b.receivedAt)).state)
          .filter(({ rule }) => rule === 'left-on')
          .map(({ suppressedBy }) => suppressedBy);
      expect(raised(half)).toEqual(['intended']);
      expect(raised(day)).toEqual([null]);
    },
  );
  it.each([
    { meant: 'a preheat for the next morning', kind: 'preheat-at', hours: 13, after: 4, hidden: null },
    { meant: 'a preheat that is near', kind: 'preheat-at', hours: 13, after: 9, hidden: 'intended' },
    { meant: 'staying late tomorrow', kind: 'staying-late-until', hours: 26, after: 4, hidden: null },
  ] as const)('is hidden by $meant after $after h closed: $hidden', ({ kind, hours, after, hidden }) => {
    const until = instant(CLOSES + hours * HOUR);
    const meant = actAt(CLOSES - HOUR, { type: 'intent', station: 'pot-1', by: 'Mira', kind, until });
    const night = every(30, CLOSES - HOUR + 30, CLOSES + after * HOUR, thermostat);
    const open = waxWatch.openAlarms(run([meant, ...night]).state);
    expect(open.map(({ rule, suppressedBy }) => [rule, suppressedBy])).toEqual([['left-on', hidden]]);
  });
  it('of the evening before is announced as past, whatever is meant today', () => {
    const [said, offAt] = [CLOSES + 15 * HOUR, CLOSES + 3 * HOUR];
    const backlog = Array.from({ length: 600 }, (_, index) => {
      const second = CLOSES + index * 30;
      const off = Math.max(0, second - offAt);
      return readingOf('p1', second, 22 + (thermostat(second) - 22) * Math.exp(-off / 3600), {
        arrives: said + 1 + index / 100,
      });
    });
    const until = instant(said + 24 * HOUR);
    const kind = 'leave-on-overnight';
    const meant = actAt(said, { type: 'intent', station: 'pot-1', by: 'Mira', kind, until });
    const { alarmChanges } = run([...every(30, CLOSES - HOUR, CLOSES - 30, thermostat), meant, ...backlog]);
    expect(alarmChanges.map(({ kind, alarm }) => [kind, alarm.rule])).toContainEqual(['learned', 'left-on']);
  });
  it('never hides what is dangerous behind what people mean', () => {
    const until = instant(CLOSES + 9 * HOUR);
    const meant = (['leave-on-overnight', 'topping-up', 'cleaning', 'probe-out', 'off-today'] as const).map(
      (kind) => actAt(0, { type: 'intent', station: 'pot-1', by: 'Mira', kind, until }),
    );
    const hot = every(10, 1, 600, (second) => (second < 300 ? 90 : 160));
    const open = waxWatch.openAlarms(run([...meant, ...hot]).state);
    expect(open.filter(({ suppressedBy }) => suppressedBy === null).map(({ rule }) => rule)).toContain(
      'fire-risk',
    );
  });
  it('shows what people mean until its time is up, or until it is taken back', () => {
    const cleaning = { station: 'pot-1', by: 'Mira', kind: 'cleaning' } as const;
    const meant = actAt(0, { ...cleaning, type: 'intent', until: instant(600) });
    const shown = (...entries: readonly Entry[]) =>
      waxWatch.statuses(run([meant, ...entries]).state, potLab())[0]?.intents?.map(({ kind }) => kind);
    expect(shown(tickAt(599))).toEqual(['cleaning']);
    expect(shown(tickAt(600))).toBeUndefined();
    expect(shown(actAt(10, { ...cleaning, type: 'intent-ended' }))).toBeUndefined();
    expect(shown(actAt(10, { ...cleaning, type: 'intent', until: instant(700) }), tickAt(650))).toEqual([
      'cleaning',
    ]);
  });
  it('is not raised of a pot that cools, even while its wax stands still in freezing', () => {
    const cooling = (second: number) => {
      const past = second - CLOSES;
      if (past < 0) return 90;
      const free = 22 + 68 * Math.exp(-past / 5400);
      if (free > 65) return free;
      const freezing = 2 * HOUR;
      const begins = 5400 * Math.log(68 / 43);
      if (past < begins + freezing) return 65 - ((past - begins) / freezing) * 0.5;
      return 22 + 42.5 * Math.exp(-(past - begins - freezing) / 5400);
    };
    expect(begun(every(30, CLOSES - 2 * HOUR, CLOSES + 8 * HOUR, cooling))).not.toContain('left-on');
  });
});

describe('figures of a rule that a station sets', () => {
  it('hold within their bounds', () => {
    const lab = potLab(1, { 'over-ceiling': { on_delay_seconds: 30 } });
    expect(begun([readingOf('p1', 0, 101), readingOf('p1', 29, 101)], lab)).toEqual([]);
    expect(begun([readingOf('p1', 0, 101), readingOf('p1', 30, 101)], lab)).toEqual(['over-ceiling']);
  });
});
