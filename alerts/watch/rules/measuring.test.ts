import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import {
  gatewaySays,
  labOf,
  potLab,
  probeOf,
  qualifyEntries,
  readingOf,
  START,
  tickAt,
} from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { RULES } from './all-rules.ts';
import { HOUR, place, shelf, every, run, begun, open } from '../../../tests/place-runs.ts';

const inTime = (...lists: readonly (readonly Entry[])[]) =>
  lists.flat().sort((a, b) => a.receivedAt - b.receivedAt);

describe('probes', () => {
  it('that show exactly the same for many hours are raised as stuck', () => {
    const least = (RULES['probe-stuck'].parameters.same_hours?.default ?? Number.NaN) * HOUR;
    expect(begun(every(300, 0, least - 300, () => 20))).toEqual([]);
    expect(begun(every(300, 0, least, () => 20))).toEqual(['probe-stuck']);
  });
  describe('at a place beside a room that falls by 3 °C in the evening', () => {
    const evening = 30 * HOUR;
    const daily = (second: number) => 20 + 1.5 * Math.sin((second / (24 * HOUR)) * 2 * Math.PI);
    const room = (second: number) =>
      daily(Math.min(second, evening)) - Math.max(0, Math.min(3, (second - evening) / HOUR));
    const tenths = (celsius: number) => Math.round(celsius * 10) / 10;
    const beside = labOf(
      [
        { id: 'place', name: 'Place', kind: 'shelf', wax: 'inlay-type-1' },
        { id: 'room', name: 'Room', kind: 'room', wax: null },
      ],
      [probeOf('p1', 'place'), probeOf('r1', 'room')],
    );
    const stuckAt = (celsius: (second: number) => number): number | null => {
      const entries = inTime(
        every(60, 0, evening + 6 * HOUR, (second) => tenths(celsius(second))),
        every(60, 0, evening + 6 * HOUR, (second) => tenths(room(second)), 'r1'),
      );
      const stuck = run(entries, beside).findings.find(({ rule }) => rule === 'probe-stuck');
      return stuck === undefined ? null : (stuck.at - START) / 1000 - evening;
    };
    it('are stuck where they followed the room and stay behind, before a kelvin and a half is missing', () => {
      const seconds = stuckAt((second) => daily(Math.min(second, evening)));
      expect(seconds).toBeGreaterThan(0);
      expect(seconds).toBeLessThan(1.5 * HOUR);
    });
    it('are not where they follow it, or never did', () => {
      expect(stuckAt((second) => 20 + (room(second) - 20) / 2)).toBeNull();
      expect(stuckAt((second) => (second < HOUR ? 20.1 : 20))).toBeNull();
    });
  });
  it.each([
    { noise: 'shows in its readings', scatter: 0.4, within: 3 * HOUR, raised: true },
    { noise: 'is hidden by its steps', scatter: 0, within: 20 * HOUR, raised: false },
  ])('whose noise $noise are stuck when they then say the same: $raised', ({ scatter, within, raised }) => {
    const since = 30 * HOUR;
    const day = (second: number) => 20 + 2 * Math.sin((second / (24 * HOUR)) * 2 * Math.PI);
    const reading = (second: number) => {
      const then = Math.min(second, since);
      return Math.round((day(then) + (scatter * ((then / 60) % 3)) / 2) * 5) / 5;
    };
    expect(begun(every(60, 0, since + within, reading)).includes('probe-stuck')).toBe(raised);
  });
  it.each([
    { apart: 300, celsius: 31, raised: true },
    { apart: 300, celsius: 29, raised: false },
    { apart: 1200, celsius: 31, raised: false },
  ])('$apart s apart that go from 20 to $celsius °C and stay jump: $raised', ({ apart, celsius, raised }) => {
    const stepped = [
      readingOf('p1', 0, 20),
      readingOf('p1', apart, celsius),
      readingOf('p1', apart + 1, celsius),
    ];
    expect(begun(stepped).includes('probe-jump')).toBe(raised);
  });
  it('that scatter are raised as noisy, and a smooth ramp is not', () => {
    const noisy = (second: number) => 20 + (second % 20 === 0 ? 1 : -1);
    expect(begun(every(10, 0, HOUR, noisy))).toContain('probe-noisy');
    expect(begun(every(10, 0, HOUR, (second) => 15 + second / 900))).not.toContain('probe-noisy');
  });
  it.each([
    { step: 30, cycle: 120 },
    { step: 30, cycle: 90 },
    { step: 5, cycle: 60 },
  ])(
    'of a heater under its thermostat are no noise: read each $step s in cycles of $cycle s',
    ({ step, cycle }) => {
      const cycling = (second: number) => 87 + 6 * Math.abs(((second / cycle) % 1) - 0.5) * 2;
      expect(begun(every(step, 0, 2 * HOUR, cycling), potLab())).not.toContain('probe-noisy');
    },
  );
  it('of a heater that scatter each few seconds are still raised as noisy', () => {
    const noisy = (second: number) => 90 + Math.sin(second * second) * 2;
    expect(begun(every(5, 0, HOUR, noisy), potLab())).toContain('probe-noisy');
  });
  // At a place 2.5 °C and 3 °C a minute may be: 5.5 °C within a minute.
  it.each([
    { to: 25.5, raised: false },
    { to: 25.6, raised: true },
  ])('that go from 20 to $to °C within a minute and stay jump: $raised', ({ to, raised }) => {
    const stepped = [readingOf('p1', 0, 20), readingOf('p1', 60, to), readingOf('p1', 61, to)];
    expect(begun(stepped).includes('probe-jump')).toBe(raised);
    expect(begun(stepped.slice(0, 2))).not.toContain('probe-jump');
  });
  it('at one place that differ are raised once for the pair', () => {
    const lab = place('shelf', {}, 2);
    const pair = (gap: number) =>
      inTime(
        every(30, 0, 1200, () => 20),
        every(30, 1, 1200, () => 20 + gap, 'p2'),
      );
    expect(begun(pair(2.1), lab)).toEqual(['probe-disagrees']);
    expect(begun(pair(2), lab)).toEqual([]);
  });
  it('are raised a week before their calibration is due', () => {
    const due = (days: number) => {
      const calibrationDue = new Date(START + days * 86_400_000).toISOString();
      const lab = labOf(shelf.stations, [probeOf('p1', 'place', { calibrationDue })]);
      return begun([readingOf('p1', 0, 20), tickAt(0)], lab);
    };
    expect([due(7.01), due(7)]).toEqual([[], ['calibration-due']]);
  });
});

describe('gateways', () => {
  const twoGateways = labOf(shelf.stations, [
    probeOf('p1', 'place'),
    probeOf('p2', 'place', { gateway: 'g2' }),
  ]);
  const spoken = inTime(
    every(10, 0, 60, () => 20),
    every(10, 1, 61, () => 20.1, 'p2'),
  );
  const ticks = (from: number, to: number) =>
    Array.from({ length: Math.floor((to - from) / 5) + 1 }, (_, index) => tickAt(from + 5 * index));
  it('that are all lost make one alarm of the lab', () => {
    const entries = [
      ...spoken,
      gatewaySays(70, 'g1', false),
      ...ticks(71, 96),
      gatewaySays(100, 'g2', false),
      ...ticks(101, 1200),
    ];
    expect(open(entries, twoGateways)).toEqual([
      'g1 gateway-lost H',
      'g2 gateway-lost H',
      'site gateway-lost B',
    ]);
  });
  it('that come back within seconds are no alarm, and give their probes time to send', () => {
    const back = [
      ...spoken,
      gatewaySays(70, 'g1', false),
      tickAt(72),
      gatewaySays(74, 'g1', true),
      ...ticks(75, 110),
    ];
    expect(begun(back, twoGateways)).toEqual([]);
  });
  it('whose clock is ten minutes slow are raised, and their readings count as present', () => {
    const entries = Array.from({ length: 80 }, (_, index) =>
      readingOf('p1', index * 10, index > 77 ? 160 : 90, { arrives: index * 10 + 600 }),
    );
    const step = run(qualifyEntries([...entries, tickAt(1391)], potLab()), potLab());
    expect(step.findings.map(({ rule, tense }) => [rule, tense])).toContainEqual(['fire-risk', 'now']);
    expect(step.findings.map(({ rule }) => rule)).toContain('gateway-clock');
    expect(waxWatch.statuses(step.state, potLab())).toMatchObject([{ condition: 'fire-risk' }]);
    expect(step.findings.some(({ rule }) => rule === 'probe-silent')).toBe(false);
  });
});

describe('a gateway whose clock jumps', () => {
  it('is raised by its jumps, and heat is judged as of arrival all the while', () => {
    const offsets = [0, 3600, -7200, 600];
    const entries = Array.from({ length: 24 }, (_, index) =>
      readingOf('p1', index * 10 + (offsets[Math.floor(index / 6)] ?? 0), index > 20 ? 160 : 90, {
        arrives: index * 10,
      }),
    );
    const step = run(qualifyEntries([...entries, tickAt(240)], potLab()), potLab());
    expect(step.findings.map(({ rule, tense }) => [rule, tense])).toContainEqual(['fire-risk', 'now']);
    expect(step.findings.find(({ rule }) => rule === 'gateway-clock')).toMatchObject({
      evidence: { how: 'unsteady' },
    });
  });
});

describe('a flood', () => {
  it('of two hundred pots makes two hundred alarms, each once', () => {
    const stations = Array.from({ length: 200 }, (_, index) => ({
      ...potLab().stations[0],
      id: `pot-${index}`,
    }));
    const lab = labOf(
      stations as Lab['stations'],
      stations.map(({ id }, index) => probeOf(`p${index}`, id)),
    );
    const entries = [0, 10, 20].flatMap((second) => lab.probes.map(({ id }) => readingOf(id, second, 101)));
    const step = run(entries, lab);
    expect(step.alarmChanges.filter(({ kind }) => kind === 'raised')).toHaveLength(200);
    expect(waxWatch.openAlarms(step.state)).toHaveLength(200);
  });
});
