// When nothing is received: one cause, raised once, with what people must look at; and what can wait for the morning.

import { describe, expect, it } from 'vitest';
import type { Entry, TickEntry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { Pattern } from '../../lab/pattern.ts';
import {
  dipPot,
  gatewaySays,
  instant,
  labOf,
  probeOf,
  qualifyEntries,
  readingOf,
  shelf,
  START,
  tickAt,
} from '../../tests/rehearsal.ts';
import type { AlarmChange } from './life/alarm.ts';
import { waxWatch } from './wax-watch.ts';

const HOUR = 3600;
/** Three stations, each with a gateway of its own that has one probe. */
const lab = labOf(
  [dipPot, { ...dipPot, id: 'pot-2', name: 'Dip pot 2' }, shelf],
  [
    probeOf('p1', 'pot-1', { gateway: 'g1' }),
    probeOf('p2', 'pot-2', { gateway: 'g2' }),
    probeOf('s1', 'shelf-1', { gateway: 'g3' }),
  ],
);
const CELSIUS = { p1: 90, p2: 21, s1: 20 } as const;
type ProbeId = keyof typeof CELSIUS;
const GATEWAYS = { p1: 'g1', p2: 'g2', s1: 'g3' } as const;

/** Readings every ten seconds of the probes, and ticks every five. */
const time = (
  from: number,
  to: number,
  probes: readonly ProbeId[],
  celsius: Partial<typeof CELSIUS> = {},
) => {
  const entries: Entry[] = [];
  for (let second = from; second < to; second += 10) {
    for (const probe of probes)
      entries.push(readingOf(probe, second, celsius[probe] ?? CELSIUS[probe], { gateway: GATEWAYS[probe] }));
    entries.push(tickAt(second + 1), tickAt(second + 6));
  }
  return entries;
};
const ALL: readonly ProbeId[] = ['p1', 'p2', 's1'];
const changesOf = (entries: readonly Entry[], on: Lab = lab): readonly AlarmChange[] =>
  waxWatch.stepAll(waxWatch.initial(), qualifyEntries(entries, on), on).alarmChanges;
/** What people are called for: raised or brought out, and not hidden. */
const called = (changes: readonly AlarmChange[]) =>
  changes
    .filter(({ kind, alarm }) => /^(raised|unsuppressed)/.test(kind) && alarm.active && !alarm.suppressedBy)
    .map(({ alarm }) => `${alarm.subject} ${alarm.rule}`);
const evidenceOf = (changes: readonly AlarmChange[], kind: AlarmChange['kind'], subject = 'site') =>
  changes.find((change) => change.kind === kind && change.alarm.subject === subject)?.alarm.evidence;

describe('a lab that goes dark', () => {
  const dark = [...time(0, 1200, ALL), ...time(1200, 4800, [])];

  it('raises one alarm for all gateways of one probe each, which names what was on', () => {
    const changes = changesOf(dark);
    expect(called(changes)).toEqual(['site gateway-lost']);
    expect(evidenceOf(changes, 'raised')).toMatchObject({
      how: 'all-gateways',
      since_at: instant(1190),
      look: 'hot',
      hot_stations: 'Dip pot 1',
      gateways_count: 3,
    });
  });

  it('is raised within five minutes, whether gateways report it or not', () => {
    const seconds = (entries: readonly Entry[]) => {
      const raised = changesOf(entries).find(({ kind }) => kind === 'raised');
      return ((raised?.at ?? 0) - instant(1190)) / 1000;
    };
    expect(seconds(dark)).toBeLessThanOrEqual(300);
    const goodbyes = ['g1', 'g2', 'g3'].map((gateway) => gatewaySays(1195, gateway, false));
    expect(seconds([...time(0, 1200, ALL), ...goodbyes, ...time(1200, 2400, [])])).toBeLessThanOrEqual(160);
  });

  it('ends with the list of what to look at once all is back, and nothing else is raised', () => {
    const changes = changesOf([...dark, ...time(4800, 6000, ALL, { p1: 60 } as never)]);
    expect(called(changes).filter((name) => !name.startsWith('pot'))).toEqual(['site gateway-lost']);
    expect(evidenceOf(changes, 'cleared')).toMatchObject({
      how: 'back',
      hot_stations: 'Dip pot 1',
      unseen: 'none',
    });
  });

  it('names what still sends nothing when the others are back, and raises that by itself', () => {
    const changes = changesOf([...dark, ...time(4800, 6000, ['p1', 's1'])]);
    expect(called(changes).filter((name) => /lost|silent/.test(name))).toEqual([
      'site gateway-lost',
      'p2 probe-silent',
    ]);
    expect(evidenceOf(changes, 'cleared')).toMatchObject({ unseen: 'some', unseen_stations: 'Dip pot 2' });
  });

  it('is not what one silent probe among others is', () => {
    expect(called(changesOf([...time(0, 1200, ALL), ...time(1200, 2400, ['p1', 's1'])]))).toEqual([
      'p2 probe-silent',
    ]);
  });

  it('is suspected when all others miss a reading, which raises nothing anew', () => {
    const missing = [...time(0, 1200, ALL), ...time(1200, 2400, ['p1', 's1']), ...time(2400, 2460, [])];
    expect(called(changesOf([...missing, ...time(2460, 3600, ['p1', 's1'])]))).toEqual(['p2 probe-silent']);
  });

  it('is not what probes are that never sent anything: they are named by themselves', () => {
    const changes = changesOf(time(0, 1200, ['p1', 's1']));
    expect(called(changes)).toEqual(['p2 probe-silent']);
    expect(evidenceOf(changes, 'raised', 'p2')).toMatchObject({ how: 'never', station: 'pot-2' });
  });
});

describe('a gateway that comes back after a silence', () => {
  const shared = labOf(
    [dipPot, shelf],
    [probeOf('p1', 'pot-1', { gateway: 'g1' }), probeOf('s1', 'shelf-1', { gateway: 'g1' })],
  );
  const both = (from: number, to: number, probes: readonly ProbeId[]): readonly Entry[] =>
    time(from, to, probes).map((entry) => (entry.kind === 'readings' ? { ...entry, gateway: 'g1' } : entry));
  const silent = [...both(0, 1200, ['p1', 's1']), ...both(1200, 4800, [])];

  it('is one cause: a probe that sends a minute after the other is not blamed', () => {
    const back = [...both(4800, 4860, ['p1']), ...both(4860, 6000, ['p1', 's1'])];
    expect(called(changesOf([...silent, ...back], shared))).toEqual(['g1 gateway-lost']);
  });

  it('leaves a probe that does not come back to be raised by itself, after its usual time', () => {
    const changes = changesOf([...silent, ...both(4800, 6600, ['p1'])], shared);
    expect(called(changes)).toEqual(['g1 gateway-lost', 's1 probe-silent']);
    const raised = changes.find(({ kind, alarm }) => kind === 'raised' && alarm.subject === 's1');
    expect(((raised?.at ?? 0) - instant(4800)) / 1000).toBeGreaterThan(300);
  });

  it('is raised within eight minutes of its last reading, sooner than one of its probes would be', () => {
    const seconds = (entries: readonly Entry[]) => {
      const raised = changesOf(entries, shared).find(({ kind }) => kind === 'raised');
      return ((raised?.at ?? 0) - instant(1190)) / 1000;
    };
    expect(seconds(silent)).toBeLessThanOrEqual(480);
    expect(seconds([...both(0, 1200, ['p1', 's1']), ...both(1200, 4800, ['p1'])])).toBeGreaterThan(475);
  });
});

describe('a lab that never received anything', () => {
  it('raises one alarm for all its gateways, before any of them is silent by itself', () => {
    const changes = changesOf(time(0, 1800, []));
    expect(called(changes)).toEqual(['site gateway-lost']);
    expect(evidenceOf(changes, 'raised')).toMatchObject({ how: 'never-any', probes_count: 3 });
    const raised = changes.find(({ kind }) => kind === 'raised');
    expect(((raised?.at ?? 0) - instant(0)) / 1000).toBeLessThan(330);
  });

  it('shows when data begins to come, and names what still sends nothing', () => {
    const changes = changesOf([...time(0, 1800, []), ...time(1800, 3600, ['p1'])]);
    expect(evidenceOf(changes, 'cleared')).toMatchObject({
      how: 'begun',
      unseen: 'some',
      unseen_stations: 'Dip pot 2, Shelf 1',
    });
    expect(called(changes)).toEqual(['site gateway-lost', 'p2 probe-silent', 's1 probe-silent']);
  });
});

describe('a silence by night', () => {
  // Wednesday, nine in the morning: the lab closes after nine hours.
  const night = 12 * HOUR;
  const pattern = (tolerance: number): Pattern => ({
    id: 'w1',
    caseReference: 'case 1',
    wax: 'inlay-type-1',
    technique: 'layered',
    length_millimetres: 40,
    tolerance_micrometres: tolerance,
    madeAt: new Date(START).toISOString(),
    madeBy: 'Mira',
    stays: [{ station: 'shelf-1', from: new Date(START).toISOString(), to: null }],
    fate: null,
  });
  const urgency = (potCelsius: number, on: Lab = lab) => {
    const celsius = { p1: potCelsius, p2: 21, s1: 20 } as never;
    const entries = [...time(night, night + 1200, ALL, celsius), ...time(night + 1200, night + 1800, [])];
    const changes = changesOf(entries, on).filter(({ alarm }) => alarm.rule === 'gateway-lost');
    expect(changes.map(({ kind }) => kind)).toEqual(['raised']);
    return evidenceOf(changes, 'raised')?.urgency;
  };

  it('can wait for the morning while every heater was cold', () => {
    expect(urgency(21)).toBe('can-wait');
  });
  it('cannot wait while a heater was hot', () => {
    expect(urgency(90)).toBe('now');
  });
  it('can wait while the patterns that lie there are safe until the lab opens, and not else', () => {
    expect(urgency(21, { ...lab, patterns: [pattern(4000)] })).toBe('can-wait');
    expect(urgency(21, { ...lab, patterns: [pattern(5)] })).toBe('now');
  });
  it('of the one probe of a heater is urgent where it was hot when last seen, and not where it was cold', () => {
    const silent = (potCelsius: number) => {
      const celsius = { p1: potCelsius } as never;
      const entries = [
        ...time(night, night + 1200, ALL, celsius),
        ...time(night + 1200, night + 2400, ['p2', 's1']),
      ];
      const changes = changesOf(entries).filter(({ alarm }) => alarm.rule === 'probe-silent');
      return changes.map(({ kind, alarm }) => [kind, alarm.subject, alarm.evidence.urgency]);
    };
    expect(silent(90)).toEqual([['raised', 'p1', 'now']]);
    expect(silent(21)).toEqual([['raised', 'p1', undefined]]);
  });
  it('cannot wait in working hours', () => {
    const entries = [...time(0, 1200, ALL, { p1: 21 } as never), ...time(1200, 1800, [])];
    expect(evidenceOf(changesOf(entries), 'raised')?.urgency).toBe('now');
  });
  it('becomes urgent in the same alarm when the lab opens', () => {
    const closed = 22.5 * HOUR;
    const entries = [
      ...time(closed, closed + 600, ALL, { p1: 21 } as never),
      ...time(closed + 600, closed + HOUR, []),
    ];
    const changes = changesOf(entries).filter(({ alarm }) => alarm.rule === 'gateway-lost');
    expect(changes.map(({ kind, alarm }) => [kind, alarm.evidence.urgency])).toEqual([
      ['raised', 'can-wait'],
      ['updated', 'now'],
    ]);
  });
});

describe('a watch that was off', () => {
  it('names when it goes on what was on, as past', () => {
    const changes = changesOf([...time(0, 1200, ALL), ...time(5 * HOUR, 5 * HOUR + 60, ALL)]);
    expect(changes.filter(({ kind }) => kind === 'learned').map(({ alarm }) => alarm)).toMatchObject([
      {
        rule: 'gateway-lost',
        subject: 'site',
        clearedAt: instant(5 * HOUR),
        evidence: { how: 'asleep', hot_stations: 'Dip pot 1' },
      },
    ]);
    expect(called(changes).filter((name) => /lost|silent/.test(name))).toEqual([]);
  });
  it('names nothing where nothing was on and nothing lay', () => {
    const cold = { p1: 21 } as never;
    const entries = [...time(0, 1200, ALL, cold), ...time(5 * HOUR, 5 * HOUR + 60, ALL, cold)];
    expect(changesOf(entries).filter(({ kind }) => kind === 'learned')).toEqual([]);
  });
});

describe('the clock of the machine', () => {
  /** Gateways are right; the machine's own clock is off by so many seconds from second 1200 on. */
  const jumping = (seconds: number, startedAnewAt = Number.POSITIVE_INFINITY): readonly Entry[] =>
    time(0, 3000, ALL).map((entry) => {
      const second = (entry.receivedAt - instant(0)) / 1000;
      const receivedAt = instant(second + (second < 1200 ? 0 : seconds));
      if (entry.kind !== 'tick') return { ...entry, receivedAt };
      const isNew = second >= startedAnewAt;
      const process: TickEntry['process'] = {
        startedAt: instant(isNew ? startedAnewAt : -100),
        runningMillis: (second - (isNew ? startedAnewAt : -100)) * 1000,
      };
      return { ...entry, receivedAt, process };
    });
  const clockAlarms = (entries: readonly Entry[]) =>
    changesOf(entries).filter(({ alarm }) => /gateway-clock|lost|silent/.test(alarm.rule));

  it.each([
    { seconds: 600, how: 'collector-ahead' },
    { seconds: HOUR, how: 'collector-ahead' },
    { seconds: -600, how: 'collector-behind' },
    { seconds: -HOUR, how: 'collector-behind' },
  ])('that jumps by $seconds s is raised once, and no gateway is blamed for it', ({ seconds, how }) => {
    const changes = clockAlarms(jumping(seconds));
    expect(called(changes)).toEqual(['site gateway-clock']);
    // Nor was the lab unwatched for as long as the clock was set forward.
    expect(changes.filter(({ kind }) => kind === 'learned')).toEqual([]);
    expect(evidenceOf(changes, 'raised')).toMatchObject({ how, lag_minutes: Math.abs(seconds) / 60 });
  });
  it('that jumps ahead and is set right has one alarm, which then names the jump back and is of no future', () => {
    const entries = time(0, 3000, ALL).map((entry) => {
      const second = (entry.receivedAt - instant(0)) / 1000;
      const isAhead = second >= 1200 && second < 1800;
      const receivedAt = instant(second + (isAhead ? 960 * HOUR : 0));
      if (entry.kind !== 'tick') return { ...entry, receivedAt };
      return {
        ...entry,
        receivedAt,
        process: { startedAt: instant(-100), runningMillis: (second + 100) * 1000 },
      };
    });
    const changes = changesOf(entries).filter(({ alarm }) => alarm.rule === 'gateway-clock');
    expect(called(changes)).toEqual(['site gateway-clock']);
    const newest = changes.at(-1);
    expect(newest).toMatchObject({ kind: 'updated', alarm: { evidence: { how: 'collector-behind' } } });
    expect(newest?.alarm.raisedAt).toBeGreaterThanOrEqual(instant(1200));
    expect(newest?.alarm.raisedAt).toBeLessThanOrEqual(instant(1200 + 10));
  });
  it('that moves a little, or belongs to a new process, is no jump', () => {
    expect(clockAlarms(jumping(20))).toEqual([]);
    expect(clockAlarms(jumping(0, 1200))).toEqual([]);
  });
});

describe('a probe that its gateway reports as gone', () => {
  const gone = (second: number, gateway = 'g1'): Entry => ({
    kind: 'probes-gone',
    receivedAt: instant(second),
    gateway,
    probes: ['p1'],
  });
  const others = ['p2', 's1'] as const;

  it('is silent a minute later, in words of its own, and no longer once it sends again', () => {
    const changes = changesOf([
      ...time(0, 1200, ALL),
      gone(1200),
      ...time(1200, 1400, others),
      ...time(1400, 1500, ALL),
    ]).filter(({ alarm }) => alarm.subject === 'p1');
    expect(changes.map(({ kind, alarm, at }) => [kind, alarm.rule, (at - START) / 1000])).toEqual([
      ['raised', 'probe-silent', 1261],
      ['cleared', 'probe-silent', expect.any(Number)],
    ]);
    expect(changes[0]?.alarm.evidence).toMatchObject({ how: 'reported', newest_at: instant(1190) });
  });

  it('is nothing where it is back within the minute, and where another gateway reports it', () => {
    expect(called(changesOf([...time(0, 1200, ALL), gone(1200), ...time(1230, 1500, ALL)]))).toEqual([]);
    expect(called(changesOf([...time(0, 1200, ALL), gone(1200, 'g2'), ...time(1200, 1500, others)]))).toEqual(
      [],
    );
  });
});

describe('a gateway that gathers ten minutes of readings', () => {
  /** Of `deliveries` deliveries. */
  const gathered = (deliveries: number): readonly Entry[] =>
    Array.from({ length: deliveries }, (_, delivery): readonly Entry[] => {
      const arrives = (delivery + 1) * 600;
      return [
        ...Array.from({ length: 20 }, (_none, index) =>
          readingOf('p1', arrives - 570 + index * 30, 90, { arrives }),
        ),
        ...Array.from({ length: 119 }, (_none, index) => tickAt(arrives + 5 + index * 5)),
      ];
    }).flat();
  const pot = labOf([dipPot], [probeOf('p1', 'pot-1')]);
  const silentAt = (entries: readonly Entry[]) =>
    changesOf(entries, pot)
      .filter(({ kind, alarm }) => kind.startsWith('raised') && alarm.rule === 'probe-silent')
      .map(({ at }) => (at - START) / 1000);

  it('is not silent between deliveries once three have come', () => {
    expect(silentAt(gathered(12)).filter((second) => second > 1800)).toEqual([]);
  });
  it('is silent within five deliveries when nothing more comes', () => {
    const last = 12 * 600;
    const silent = Array.from({ length: 800 }, (_, index) => tickAt(last + 600 + index * 5));
    const [second = 0, ...more] = silentAt([...gathered(12), ...silent]).filter((at) => at > 1800);
    expect(second - last).toBeGreaterThan(1800);
    expect(second - last).toBeLessThanOrEqual(3010);
    expect(more).toEqual([]);
  });
});
