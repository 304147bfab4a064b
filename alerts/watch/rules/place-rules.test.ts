// Storage, measuring and the watcher itself, by simulated time.

import { describe, expect, it } from 'vitest';
import type { Entry, SelfCheckEntry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Pattern } from '../../../lab/pattern.ts';
import type { StationKind } from '../../../lab/station-kinds.ts';
import {
  gatewaySays,
  instant,
  labOf,
  potLab,
  probeOf,
  qualified,
  readingOf,
  START,
  tickAt,
} from '../../../tests/rehearsal.ts';
import { alarmStateCode } from '../life/alarm-state.ts';
import { patternOutlooks, waxWatch } from '../wax-watch.ts';
import { RULES } from './all-rules.ts';

const HOUR = 3600;
const place = (kind: StationKind, more: Partial<Lab> = {}, probes = 1): Lab =>
  labOf(
    [{ id: 'place', name: 'Place', kind, wax: 'inlay-type-1' }],
    Array.from({ length: probes }, (_, index) => probeOf(`p${index + 1}`, 'place')),
    { ...more, waxOverrides: { 'inlay-type-1': { storageMax: 25 }, ...more.waxOverrides } },
  );
const shelf = place('shelf');
const every = (step: number, from: number, to: number, celsius: (second: number) => number, probe = 'p1') => {
  const entries: Entry[] = [];
  for (let second = from; second <= to; second += step)
    entries.push(readingOf(probe, second, celsius(second)));
  return entries;
};
const run = (entries: readonly Entry[], lab: Lab = shelf) =>
  waxWatch.stepAll(waxWatch.initial(), entries, lab);
const begun = (entries: readonly Entry[], lab?: Lab) =>
  run(entries, lab)
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ rule }) => rule);
const open = (entries: readonly Entry[], lab?: Lab) =>
  waxWatch
    .openAlarms(run(entries, lab).state)
    .map((alarm) => `${alarm.subject} ${alarm.rule} ${alarmStateCode(alarm)}`)
    .sort();
const inTime = (...lists: readonly (readonly Entry[])[]) =>
  lists.flat().sort((a, b) => a.receivedAt - b.receivedAt);

describe('storage', () => {
  it.each([
    { swing: 4.6, raised: false },
    { swing: 5.1, raised: true },
  ])('that swings by $swing °C within a day: $raised', ({ swing, raised }) => {
    const slow = every(
      300,
      0,
      20 * HOUR,
      (second) => 18 + (swing / 2) * Math.sin((second / (20 * HOUR)) * 2 * Math.PI),
    );
    expect(begun(slow).includes('storage-swing')).toBe(raised);
  });
  it('forgets a swing when it slides out of the window', () => {
    const entries = every(300, 0, 40 * HOUR, (second) => (second < HOUR ? 14 : 20.5));
    const { findings } = run(entries);
    const raised = findings.filter(({ rule }) => rule === 'storage-swing').map(({ phase }) => phase);
    expect([raised[0], raised.at(-1)]).toEqual(['begins', 'ends']);
  });
  it.each([
    { rate: 5.9, raised: false },
    { rate: 6.2, raised: true },
  ])('that changes by $rate °C an hour: $raised', ({ rate, raised }) => {
    const entries = every(60, 0, 1800, (second) => 20 + (rate * second) / HOUR);
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
  it('raises a cabinet that stays away from its usual temperature', () => {
    const usual = (second: number) => 18 + 0.3 * Math.sin(second / 900);
    const entries = every(60, 0, 6 * HOUR, (second) => (second > 5.5 * HOUR ? 21 : usual(second)));
    expect(begun(entries, place('cabinet'))).toContain('door-open');
    expect(begun(entries.slice(0, 335), place('cabinet'))).not.toContain('door-open');
  });
});

describe('waiting patterns', () => {
  const pattern: Pattern = {
    id: 'w1',
    caseReference: 'case 1',
    wax: 'inlay-type-1',
    technique: 'layered',
    length_millimetres: 40,
    tolerance_micrometres: 40,
    madeAt: new Date(START).toISOString(),
    madeBy: 'Mira',
    stays: [{ station: 'place', from: new Date(START).toISOString(), to: null }],
    fate: null,
  };
  const lab = place('shelf', { patterns: [pattern] });
  const days = every(600, 0, 48 * HOUR, () => 24);
  const outlookAfter = (entries: typeof days, of = lab, hours = entries.length / 6) =>
    patternOutlooks(run(entries, of).state, of, START + hours * 3_600_000)[0];
  it('age where they lie, the longer the more', () => {
    const [early, late] = [outlookAfter(days.slice(0, 12)), outlookAfter(days)].map(
      (outlook) => outlook?.verdict.permanent,
    );
    expect(late?.likely ?? 0).toBeGreaterThan(early?.likely ?? Infinity);
    expect(late?.low ?? Infinity).toBeLessThanOrEqual(late?.likely ?? 0);
    expect(outlookAfter(days)?.meanKineticCelsius).toBeCloseTo(24, 6);
  });
  it('are raised to be due the lead time before their tolerance, and no earlier', () => {
    const { findings } = run(days, lab);
    const due = findings.find(({ rule }) => rule === 'pattern-due');
    const tolerance = outlookAfter(days)?.verdict.toleranceAt ?? 0;
    expect((tolerance - (due?.at ?? 0)) / 3_600_000).toBeLessThanOrEqual(12);
    const roomy = place('shelf', { patterns: [{ ...pattern, tolerance_micrometres: 4000 }] });
    expect(begun(days.slice(0, 140), roomy)).not.toContain('pattern-due');
  });
  it('are due by the standing time a day after it was up, though their error never gets there', () => {
    const roomy = place('shelf', { patterns: [{ ...pattern, tolerance_micrometres: 4000 }] });
    expect(begun(days.slice(0, 146), roomy)).not.toContain('pattern-due');
    expect(begun(days.slice(0, 150), roomy)).toContain('pattern-due');
    const onDie = place('shelf', {
      patterns: [{ ...pattern, tolerance_micrometres: 4000, isMadeOnDie: true }],
    });
    expect(begun(days, onDie)).not.toContain('pattern-due');
  });
  it('are said alike by the alarm and by what screens ask for, whenever in the ten minutes they ask', () => {
    const { state, findings } = run(days, lab);
    const last = findings.filter(({ rule }) => rule === 'pattern-due').at(-1)?.evidence;
    const [asked, later] = [0, 9.9].map(
      (minutes) => patternOutlooks(state, lab, START + 48 * 3_600_000 + minutes * 60_000)[0],
    );
    expect(asked?.verdict).toEqual(later?.verdict);
    for (const name of ['likely_micrometres', 'low_micrometres', 'high_micrometres'])
      expect(Math.round(Number(last?.[name]))).toBe(Math.round(asked?.verdict.values[name] ?? 0));
    expect(last).toMatchObject({ verdict: asked?.verdict.verdict, reason: asked?.verdict.reason });
  });
  it('that were moved earlier than was entered went through the warmth of the place where they were', () => {
    const shelfAndSill = (stays: Pattern['stays']) => ({
      ...lab,
      stations: [
        ...lab.stations,
        { ...lab.stations[0], id: 'sill', name: 'Sill' } as (typeof lab.stations)[0],
      ],
      probes: [
        ...lab.probes,
        { ...lab.probes[0], id: 'sill-probe', station: 'sill' } as (typeof lab.probes)[0],
      ],
      patterns: [{ ...pattern, stays }],
    });
    const at = (hours: number) => new Date(START + hours * 3_600_000).toISOString();
    const before = shelfAndSill(pattern.stays);
    const warm = every(600, 0, 10 * HOUR, () => 30).map((entry) =>
      entry.kind === 'readings'
        ? { ...entry, readings: entry.readings.map((reading) => ({ ...reading, probe: 'sill-probe' })) }
        : entry,
    );
    const entries = [...days.slice(0, 60), ...warm].toSorted(
      (one, other) => one.receivedAt - other.receivedAt,
    );
    const { state } = waxWatch.stepAll(waxWatch.initial(), entries, before);
    const moved = shelfAndSill([
      { station: 'place', from: at(0), to: at(2) },
      { station: 'sill', from: at(2), to: null },
    ]);
    const now = START + 10.5 * 3_600_000;
    const next = every(600, 10 * HOUR, 10.2 * HOUR, () => 30).map((entry) =>
      entry.kind === 'readings'
        ? { ...entry, readings: entry.readings.map((reading) => ({ ...reading, probe: 'sill-probe' })) }
        : entry,
    );
    const placed = waxWatch.stepAll(state, next, moved).state;
    const [shelf, sill] = [patternOutlooks(state, before, now), patternOutlooks(placed, moved, now)].map(
      ([outlook]) => outlook?.verdict.permanent?.likely ?? 0,
    );
    expect(sill).toBeGreaterThan(1.2 * (shelf ?? 0));
  });
  it('are forgotten when they are invested', () => {
    const { state } = run(days, lab);
    const after = waxWatch.stepAll(state, [tickAt(48 * HOUR + 1)], shelf).state;
    expect(after['pattern:w1']).toBeUndefined();
    expect(after['course:w1']).toBeUndefined();
    expect(waxWatch.openAlarms(after).filter(({ rule, active }) => rule === 'pattern-due' && active)).toEqual(
      [],
    );
  });
});

describe('probes', () => {
  it('that show exactly the same for many hours are raised to be stuck', () => {
    const least = (RULES['probe-stuck'].parameters.same_hours?.default ?? Number.NaN) * HOUR;
    expect(begun(every(300, 0, least - 300, () => 20))).toEqual([]);
    expect(begun(every(300, 0, least, () => 20))).toEqual(['probe-stuck']);
  });
  it('that scatter are raised to be noisy, a smooth ramp is not', () => {
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
  it('of a heater that scatter each few seconds are still raised to be noisy', () => {
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
  it('that come back within seconds are no alarm, and give their probes time to speak', () => {
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
    const step = run(qualified([...entries, tickAt(1391)], potLab()), potLab());
    expect(step.findings.map(({ rule, tense }) => [rule, tense])).toContainEqual(['fire-risk', 'now']);
    expect(step.findings.map(({ rule }) => rule)).toContain('gateway-clock');
    expect(waxWatch.statuses(step.state, potLab())).toMatchObject([{ condition: 'fire-risk' }]);
    expect(step.findings.some(({ rule }) => rule === 'probe-silent')).toBe(false);
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

describe('the watcher itself', () => {
  const check = (second: number, part: SelfCheckEntry['part'], ok: boolean, name = ''): SelfCheckEntry => ({
    kind: 'self-check',
    receivedAt: instant(second),
    part,
    name,
    ok,
    detail: 'no answer',
  });
  it('raises its store, its disk, its phones and each of its channels, and when they are well again', () => {
    const bad = [
      check(0, 'store', false),
      check(0, 'channel', false, 'email'),
      check(0, 'channel', false, 'push'),
    ];
    expect(open(bad)).toEqual([
      'channel-email channel-failing B',
      'channel-push channel-failing B',
      'site store-failing B',
    ]);
    expect(open([...bad, check(9, 'channel', true, 'push')])).toContain('channel-push channel-failing D');
  });
});

describe('a lab that changes', () => {
  it('ends what it has no longer, and what was switched off', () => {
    const { state } = run(
      every(10, 0, 3000, () => 96),
      potLab(),
    );
    expect(waxWatch.openAlarms(state).map(({ rule }) => rule)).toEqual(['outside-window']);
    const off = potLab(1, { 'outside-window': { enabled: false } });
    const after = waxWatch.stepAll(state, [tickAt(3001)], off).state;
    expect(waxWatch.openAlarms(after).map(({ active }) => active)).toEqual([false]);
  });
});
