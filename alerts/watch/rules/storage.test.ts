import { describe, expect, it } from 'vitest';
import { instant, labOf, probeOf } from '../../../tests/rehearsal.ts';
import { HOUR, place, every, run, begun, open } from '../../../tests/place-runs.ts';

describe('storage', () => {
  it.each([
    { swing: 5.5, raised: false },
    { swing: 6.1, raised: true },
  ])('that swings by $swing °C within a day: $raised', ({ swing, raised }) => {
    const slow = every(
      300,
      0,
      20 * HOUR,
      (second) => 18 + (swing / 2) * Math.sin((second / (20 * HOUR)) * 2 * Math.PI),
    );
    expect(begun(slow).includes('storage-swing')).toBe(raised);
  });
  it('drops a swing when it slides out of the window', () => {
    const entries = every(300, 0, 40 * HOUR, (second) => (second < HOUR ? 14 : 20.5));
    const { findings } = run(entries);
    const raised = findings.filter(({ rule }) => rule === 'storage-swing').map(({ phase }) => phase);
    expect([raised[0], raised.at(-1)]).toEqual(['begins', 'ends']);
  });
  it.each([
    { rate: 5.9, raised: false },
    { rate: 6.2, raised: true },
  ])('that changes by $rate °C an hour: $raised', ({ rate, raised }) => {
    const entries = every(60, 0, 5 * HOUR, (second) => 20 + (rate * Math.max(0, second - HOUR)) / HOUR);
    expect(begun(entries).includes('storage-rate')).toBe(raised);
  });
  it('that turns by 3 K within half an hour as its readings begin does not yet change fast', () => {
    const turning = every(60, 0, 1800, (second) => 12 + 6 * (second / HOUR));
    expect(begun(turning)).not.toContain('storage-rate');
  });
  it.each([
    { minutes: 8, raised: false },
    { minutes: 40, raised: true },
  ])('that is aired for $minutes min at 5 °C outside changes fast: $raised', ({ minutes, raised }) => {
    const aired = 60 * minutes;
    const fallen = (second: number) => 5 + 16 * Math.exp(-second / 1500);
    const entries = every(60, 0, 26 * HOUR, (second) => {
      const since = second - 25 * HOUR;
      if (since < 0) return 21;
      return since < aired ? fallen(since) : 21 - (21 - fallen(aired)) * Math.exp((aired - since) / 900);
    });
    expect(begun(entries).includes('storage-rate')).toBe(raised);
  });
  it.each([
    { celsius: 25, after: 1200, raised: false },
    { celsius: 25.1, after: 110, raised: false },
    { celsius: 25.1, after: 120, raised: true },
  ])('at $celsius °C for $after s, limit 25 °C: $raised', ({ celsius, after, raised }) => {
    expect(begun(every(10, 0, after, () => celsius)).includes('storage-warm')).toBe(raised);
  });
  it('reports in the morning what the night did', () => {
    const evening = 9 * HOUR - 600;
    const morning = 23 * HOUR + 600;
    const night = every(300, evening, morning, (second) =>
      second > 12 * HOUR && second < 20 * HOUR ? 15.5 : 20,
    );
    expect(begun(night)).toContain('night-swing');
    expect(begun(night.filter(({ receivedAt }) => receivedAt < instant(23 * HOUR)))).not.toContain(
      'night-swing',
    );
  });
  it.each([
    { uncertainty: 0.1, raisedAt: 16.18 },
    { uncertainty: 0.5, raisedAt: 16.47 },
  ])(
    'that cools by 0.25 °C an hour towards 16 °C, by a probe within $uncertainty °C, is announced at about $raisedAt °C',
    ({ uncertainty, raisedAt }) => {
      const lab = labOf(
        [{ id: 'place', name: 'Place', kind: 'room', wax: 'inlay-type-1', window_celsius: [16, 26] }],
        [probeOf('p1', 'place', { uncertainty_celsius: uncertainty })],
      );
      const slow = every(60, 0, 6 * HOUR, (second) => 17 - (0.25 * second) / HOUR);
      const heading = run(slow, lab).findings.find(({ rule }) => rule === 'storage-heading');
      expect(Number(heading?.evidence.value_celsius)).toBeCloseTo(raisedAt, 1);
      expect(heading?.evidence.side).toBe('cold');
    },
  );
  it('that a setback cools by 2.5 °C an hour and keeps more than a degree above its limit is not announced', () => {
    const lab = labOf(
      [{ id: 'place', name: 'Place', kind: 'room', wax: 'inlay-type-1', window_celsius: [14.5, 26] }],
      [probeOf('p1', 'place', { uncertainty_celsius: 0.5 })],
    );
    const setback = every(60, 0, 8 * HOUR, (second) => Math.max(15.6, 18 - (2.5 * second) / HOUR));
    expect(begun(setback, lab)).not.toContain('storage-heading');
  });
  it.each([
    { from: 'the wax class', window: {}, celsius: 25.9, raised: false },
    { from: 'the wax class', window: {}, celsius: 26.1, raised: true },
    { from: 'the lab', window: { window_celsius: [15, 25] as const }, celsius: 25.1, raised: true },
  ])(
    'at $celsius °C with the limit of 25 °C from $from calls somebody: $raised',
    ({ window, celsius, raised }) => {
      const station = { id: 'place', name: 'Place', kind: 'shelf', wax: 'inlay-type-2', ...window } as const;
      const lab = labOf([station], [probeOf('p1', 'place')]);
      expect(
        begun(
          every(10, 0, 300, () => celsius),
          lab,
        ).includes('storage-warm'),
      ).toBe(raised);
    },
  );
  it.each([
    { what: 'nothing lies', wax: null, window: {}, alarms: [] },
    { what: 'a wax is named', wax: 'inlay-type-1' as const, window: {}, alarms: ['place storage-swing B'] },
    {
      what: 'nothing lies between limits',
      wax: null,
      window: { window_celsius: [10, 40] as const },
      alarms: [],
    },
  ])('that swings by 8 °C, where $what: $alarms', ({ wax, window, alarms }) => {
    const lab = labOf(
      [{ id: 'place', name: 'Place', kind: 'room', wax, ...window }],
      [probeOf('p1', 'place')],
    );
    const swinging = every(
      300,
      0,
      10 * HOUR,
      (second) => 19 - 4 * Math.cos((second / (20 * HOUR)) * 2 * Math.PI),
    );
    expect(open(swinging, lab).filter((alarm) => !alarm.endsWith(' H'))).toEqual(alarms);
  });
  it('whose noisy probe reads on either side of the limit that its means have passed is announced', () => {
    const lab = labOf(
      [{ id: 'place', name: 'Place', kind: 'room', wax: 'inlay-type-1', window_celsius: [16, 26] }],
      [probeOf('p1', 'place')],
    );
    const noisy = (mean: number) =>
      every(30, 0, 4 * HOUR, (second) => mean + (second % 60 === 0 ? 0.45 : -0.45));
    expect(begun(noisy(15.8), lab)).toContain('storage-cold');
    expect(begun(noisy(16.2), lab)).not.toContain('storage-cold');
  });
  it('that leaves all that it was in the day before is announced while much of its swing is left', () => {
    const sun = every(60, 0, 26 * HOUR, (second) => 19 + 20 * Math.max(0, second / HOUR - 25.6));
    const swing = run(sun).findings.find(({ rule }) => rule === 'storage-swing');
    expect(Number(swing?.evidence.swing_celsius_difference)).toBeLessThan(5.3);
  });
  it.each([
    // Second 0 is Wednesday 09:00: the Monday after it opens 119 hours later.
    { when: 'before opening on a Monday', hour: 117, raised: false },
    { when: 'on a Sunday', hour: 95, raised: true },
  ])('that is heated up quickly $when is foreseen to swing too far: $raised', ({ hour, raised }) => {
    const weekend = every(60, 70 * HOUR, (hour + 1) * HOUR, (second) => {
      return 17 + 5.6 * (1 - Math.exp(-Math.max(0, second / HOUR - hour) / 0.3));
    });
    expect(begun(weekend).includes('storage-swing')).toBe(raised);
  });
  it('that overshoots as it is heated up again after an airing swung no further than it was seen to', () => {
    const aired = (dip: number) => (second: number) => {
      const since = second / HOUR - 25.2;
      if (since < 0) return 20;
      return since < 0.2 ? 20 - dip : 20 - dip + Math.min(dip + 2, 9 * (since - 0.2));
    };
    const swings = (dip: number) => begun(every(60, 0, 27 * HOUR, aired(dip))).includes('storage-swing');
    expect(swings(2.8)).toBe(false);
    expect(swings(4.5)).toBe(true);
  });
  it('that is heated up by 9 °C an hour each morning changes fast only where it goes beyond the day before', () => {
    const heated = (last: number) => (second: number) => {
      const hour = second / HOUR;
      const most = hour > 24 ? last : 3;
      return 18 + Math.min(most, Math.max(0, 9 * ((hour % 24) - 5)));
    };
    const rises = (last: number) =>
      run(every(60, 0, 32 * HOUR, heated(last)))
        .findings.filter(({ rule, phase }) => rule === 'storage-rate' && phase === 'begins')
        .filter(({ at }) => at > instant(24 * HOUR)).length;
    expect(rises(3)).toBe(0);
    expect(rises(9)).toBe(1);
  });
  it('that comes back past its limit is not announced anew by the rule that had foreseen it', () => {
    // Aired at once when it is hottest, so that both rules hold until then.
    const day = every(300, 0, 9 * HOUR, (second) => (second <= 6 * HOUR ? 21 + second / HOUR : 23.5));
    const calls = run(day).alarmChanges.filter(
      ({ kind, alarm }) =>
        /raised|unsuppressed/.test(kind) &&
        alarm.active &&
        !alarm.suppressedBy &&
        /storage-(warm|heading)/.test(alarm.rule),
    );
    expect(calls.map(({ alarm }) => alarm.rule)).toEqual(['storage-heading', 'storage-warm']);
  });
  const withLimits = (kind: 'room' | 'cabinet', low: number) =>
    labOf(
      [{ id: 'place', name: 'Place', kind, wax: 'inlay-type-1', window_celsius: [low, 26] }],
      [probeOf('p1', 'place', { uncertainty_celsius: 0.5 })],
    );
  it('is on no way out where its thermostat turns each hour, but is where it goes on past the turn', () => {
    /** Between 16.2 and 19.2 °C, half an hour down and half an hour up. */
    const cycling = (second: number) => 16.2 + 3 * Math.abs(((second / HOUR) % 1) - 0.5) * 2;
    const bottom = 11.5 * HOUR;
    const failing = (second: number) =>
      second < bottom ? cycling(second) : 16.2 - (2 * (second - bottom)) / HOUR;
    const afterHistory = (celsius: (second: number) => number) =>
      run(every(60, 0, 13 * HOUR, celsius), withLimits('cabinet', 15.5))
        .findings.filter(({ rule, phase }) => rule === 'storage-heading' && phase === 'begins')
        .filter(({ at }) => at > instant(4 * HOUR));
    expect(afterHistory(cycling)).toEqual([]);
    expect(afterHistory(failing).map(({ evidence }) => evidence.side)).toEqual(['cold']);
  });
  it('that creeps by 0.1 °C an hour is announced within the uncertainty of its limit, once it is colder than all day', () => {
    const creeping = every(300, 0, 16 * HOUR, (second) => 16.4 + 0.8 - (0.1 * second) / HOUR);
    const heading = run(creeping, withLimits('room', 16)).findings.find(
      ({ rule }) => rule === 'storage-heading',
    );
    expect(Number(heading?.evidence.value_celsius)).toBeLessThan(16.5);
    expect(Number(heading?.evidence.value_celsius)).toBeGreaterThan(16.1);
  });
  it.each([
    { open: 90, swing: false },
    { open: 3 * HOUR, swing: true },
  ])('whose air is 7 °C warmer for $open s swung: $swing', ({ open: seconds, swing }) => {
    const from = 9.5 * HOUR;
    const aired = every(30, 0, 14 * HOUR, (second) =>
      second > from && second <= from + seconds ? 26.5 : 19.5,
    );
    expect(begun(aired).includes('storage-swing')).toBe(swing);
  });
  it('does not look open while its air comes back from a door that was closed again', () => {
    const from = 6.5 * HOUR;
    const closedAgain = (second: number) => (second < from ? 20 : 20 + 4 * Math.exp(-(second - from) / 1500));
    expect(begun(every(30, 0, 8 * HOUR, closedAgain), place('cabinet'))).not.toContain('door-open');
  });
  it('raises a cabinet that stays away from its usual temperature', () => {
    const usual = (second: number) => 18 + 0.3 * Math.sin(second / 900);
    const entries = every(60, 0, 6 * HOUR, (second) => (second > 5.5 * HOUR ? 21 : usual(second)));
    expect(begun(entries, place('cabinet'))).toContain('door-open');
    expect(begun(entries.slice(0, 335), place('cabinet'))).not.toContain('door-open');
  });
});
