// Rules that have learned what is usual for a heater or near what limit a place is, on short made traces; both sides of an edge.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Station } from '../../../lab/station.ts';
import { every, HOUR } from '../../../tests/pot-runs.ts';
import { dipPot, labOf, potLab, probeOf } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { RULES, type RuleKind } from './all-rules.ts';

const DAY = 24 * HOUR;
/** What began, with the seconds and the temperature at which it did. */
const begun = (entries: readonly Entry[], lab: Lab) =>
  waxWatch
    .stepAll(waxWatch.initial(), entries, lab)
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ at, evidence, rule }) => ({
      rule,
      second: (at - (entries[0]?.receivedAt ?? 0)) / 1000,
      celsius: Number(evidence.value_celsius),
    }));
const rulesOf = (entries: readonly Entry[], lab: Lab = potLab()) =>
  begun(entries, lab).map(({ rule }) => rule);
const first = (kind: RuleKind, entries: readonly Entry[], lab: Lab = potLab()) =>
  begun(entries, lab).find(({ rule }) => rule === kind);
/** The default of a figure: its edge is tested, not its value. */
const figure = (kind: RuleKind, name: string) => RULES[kind].parameters[name]?.default ?? Number.NaN;
/** Rising and falling evenly by `kelvins` around `middle`. */
const swing =
  (middle: number, kelvins: number, periodSeconds: number) =>
  (second: number): number =>
    middle + kelvins * (1 - 4 * Math.abs(((second / periodSeconds) % 1) - 0.5));
const labWith = (station: Partial<Station>) => labOf([{ ...dipPot, ...station }], [probeOf('p1', 'pot-1')]);

describe('a heater that is weak', () => {
  /** Days of work from the first on, a Wednesday. */
  const WORKDAYS = [0, 1, 2, 5, 6];
  /** The cold starts of days that follow each other, each as long as given, in minutes. */
  const warmUps = (minutes: readonly number[]) =>
    minutes.flatMap((length, index) => {
      const from = (WORKDAYS[index] ?? 0) * DAY;
      return every(30, from, from + 1.5 * HOUR, (second) =>
        Math.min(90, 20 + (70 * (second - from)) / (length * 60)),
      );
    });
  // From 35 °C to 85 °C takes 5/7 of each.
  const usual = (30 * 5) / 7;
  const edge = ((figure('heater-weak', 'ratio') * usual + 2) * 7) / 5;
  it.each([
    { last: edge - 3, raised: false },
    { last: edge + 9, raised: true },
  ])('takes much longer than its usual half hour to warm up: $last min, $raised', ({ last, raised }) => {
    expect(rulesOf(warmUps([30, 30, 30, last])).includes('heater-weak')).toBe(raised);
  });
  it('is announced sooner when its last warm-up was long already', () => {
    const half = (1 + figure('heater-weak', 'ratio')) / 2;
    const announced = (before: number) =>
      first('heater-weak', warmUps([30, 30, 30, before, 85]))?.second ?? Number.NaN;
    expect(announced(30 * half + 2)).toBeLessThan(announced(30) - 120);
  });
  it('is announced before the slow warm-up is over', () => {
    expect(first('heater-weak', warmUps([30, 30, 30, 85]))?.celsius).toBeNaN();
    expect(first('heater-weak', warmUps([30, 30, 30, 85]))?.second).toBeLessThan(5 * DAY + 85 * 60);
  });
  it('is announced soon after it should have been half way, while it is far from its window', () => {
    expect(first('heater-weak', warmUps([30, 30, 30, 85]))?.second).toBeLessThan(5 * DAY + 45 * 60);
  });
  it('of which one warm-up is known is announced before a second of 85 instead of 30 min is over', () => {
    expect(first('heater-weak', warmUps([30, 85]))?.celsius).toBeNaN();
    expect(first('heater-weak', warmUps([30, 85]))?.second).toBeLessThan(DAY + 70 * 60);
  });
  it('is not taken for one when its second warm-up takes half as long again as its first', () => {
    expect(rulesOf(warmUps([30, 45]))).not.toContain('heater-weak');
  });

  const morningAfter = (late: (second: number) => number) => [
    ...every(30, 0, 4 * HOUR, (second) => Math.min(20 + second / 26, swing(88, 2, 800)(second))),
    ...every(30, DAY, DAY + 1.5 * HOUR, (second) => Math.min(20 + (second - DAY) / 26, late(second))),
  ];
  it.each([
    {
      what: 'that creeps up without a break',
      late: (second: number) => 58 + (second - DAY) / 1500,
      weak: true,
    },
    { what: 'that turns off and on again below its window', late: swing(60, 2, 600), weak: false },
  ])('is the cause of a late warm-up $what, and little wax is not: $weak', ({ late, weak }) => {
    const rules = rulesOf(morningAfter(late));
    expect([rules.includes('heater-weak'), rules.includes('low-pot')]).toEqual([weak, !weak]);
  });

  const edgeUnder = 88 - figure('heater-weak', 'under_celsius_difference');
  it.each([
    { middle: edgeUnder + 0.7, raised: false },
    { middle: edgeUnder - 1.5, raised: true },
  ])('stays under the 88 to 92 °C that it has kept: around $middle °C, $raised', ({ middle, raised }) => {
    const entries = every(10, 0, 6 * HOUR, (second) =>
      second < 4 * HOUR ? swing(90, 2, 800)(second) : swing(middle, 0.3, 800)(second),
    );
    expect(rulesOf(entries).includes('heater-weak')).toBe(raised);
  });
});

describe('a thermostat that sticks', () => {
  it('is announced within its window, minutes before the ceiling', () => {
    const stuck = every(10, 0, 5 * HOUR, (second) =>
      second < 4 * HOUR ? swing(88, 1.5, 800)(second) : 86.5 + (second - 4 * HOUR) / 60,
    );
    const announced = first('runaway', stuck);
    const over = first('over-ceiling', stuck);
    expect(announced?.celsius).toBeLessThan(95);
    expect((over?.second ?? 0) - (announced?.second ?? 0)).toBeGreaterThan(3 * 60);
  });
  it.each([
    { minutes: 1, raised: false },
    { minutes: 6, raised: true },
  ])('is not seen in hot wax poured in, which makes a pot rise for $minutes min: $raised', (pour) => {
    const rising = 86.5 + 2.5 * pour.minutes;
    const entries = every(10, 0, 5 * HOUR, (second) => {
      const minutes = second / 60 - 240;
      if (minutes < 0) return swing(87, 1.5, 800)(second);
      return minutes < pour.minutes
        ? 86.5 + 2.5 * minutes
        : 87 + (rising - 87) * Math.exp((pour.minutes - minutes) / 4);
    });
    expect(rulesOf(entries).includes('runaway')).toBe(pour.raised);
  });
  it('is not seen in a rhythm that goes on, nor in a top half a kelvin higher', () => {
    const entries = every(10, 0, 5 * HOUR, (second) =>
      second < 4 * HOUR ? swing(88, 1.5, 800)(second) : swing(88.25, 1.75, 800)(second),
    );
    expect(rulesOf(entries)).not.toContain('runaway');
  });
});

describe('a bath', () => {
  const bath = labWith({
    kind: 'water-bath',
    wax: 'bite-registration',
    window_celsius: [43, 55],
    ceiling_celsius: 65,
  });
  /** Steady for two hours and a half, then by so much an hour. */
  const drifting = (from: number, kelvinsPerHour: number) =>
    every(
      20,
      0,
      4.5 * HOUR,
      (second) =>
        from + kelvinsPerHour * Math.max(0, (second - 2.5 * HOUR) / HOUR) + 0.1 * Math.sin(second / 90),
    );
  it.each([
    { from: 53, rate: 2, edge: 55 },
    { from: 45, rate: -2, edge: 43 },
  ])(
    'that creeps from $from °C towards $edge °C is announced before it gets there',
    ({ from, rate, edge }) => {
      const announced = first('bath-drift', drifting(from, rate), bath);
      expect(announced).toBeDefined();
      expect(Math.abs((announced?.celsius ?? edge) - from)).toBeLessThan(2);
    },
  );
  /** Held steady at `from` for four hours, in which cold water made it turn twice, then by so much an hour. */
  const heldSteady = (from: number, kelvinsPerHour: number) =>
    every(20, 0, 6.5 * HOUR, (second) => {
      const past = Math.min(
        ...[3 * HOUR, 3.5 * HOUR].map((poured) => (second < poured ? 900 : second - poured)),
      );
      const poured = past < 60 ? past / 60 : Math.max(0, 1 - (past - 60) / 300);
      return from + kelvinsPerHour * Math.max(0, second / HOUR - 4) - 1.5 * poured;
    });
  it.each([
    { rate: -2, raised: true },
    { rate: -6, raised: false },
  ])('that turned only after cold water is seen to drift at $rate K/h, and off faster: $raised', (creep) => {
    expect(rulesOf(heldSteady(45, creep.rate), bath).includes('bath-drift')).toBe(creep.raised);
  });
  /** Six hours of cycles about 47 °C, then so much higher, with a time constant of ten minutes. */
  const lidded = (kelvins: number) =>
    every(10, 0, 7 * HOUR, (second) => {
      const since = Math.max(0, second - 6 * HOUR);
      return swing(47, 0.4, 400)(second) + kelvins * (1 - Math.exp(-since / 600));
    });
  it.each([
    { kelvins: 3, raised: false },
    { kelvins: 12, raised: true },
  ])(
    'that rises by $kelvins K in a window that ends 8 K above it, as under a lid: $raised',
    ({ kelvins, raised }) => {
      expect(rulesOf(lidded(kelvins), bath).includes('runaway')).toBe(raised);
    },
  );
  it.each([
    { days: 4, raised: false },
    { days: 9, raised: true },
  ])(
    'that was warmed up on $days days in a row and not on the next one lacks heat: $raised',
    ({ days, raised }) => {
      const daily = every(240, 0, (days + 0.5) * DAY, (second) =>
        second < days * DAY && second % DAY > HOUR && second % DAY < 8 * HOUR ? 47 : 21,
      );
      expect(rulesOf(daily, bath).includes('no-heat')).toBe(raised);
    },
  );
  it.each([
    {
      what: 'is filled with cold water that warms up',
      after: (seconds: number) => seconds / 60,
      raised: false,
    },
    { what: 'is lifted out into the air', after: () => 0, raised: true },
  ])('whose probe falls to 22 °C as it $what: out of its place $raised', ({ after, raised }) => {
    const entries = every(20, 0, 2 * HOUR, (second) => {
      const since = second - 1.5 * HOUR;
      if (since < 0) return swing(47, 0.4, 400)(second);
      return Math.min(47, 22 + 25 * Math.exp(-since / 20) + after(since));
    });
    expect(rulesOf(entries, bath).includes('probe-out')).toBe(raised);
  });
  it('that creeps in the middle of its window, or holds still at its edge, is not', () => {
    expect(rulesOf(drifting(47, 2), bath)).not.toContain('bath-drift');
    expect(rulesOf(drifting(54.5, 0), bath)).not.toContain('bath-drift');
  });
});

describe('a storage place', () => {
  const shelf = (window: readonly [number, number]) =>
    labOf(
      [{ id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-1', window_celsius: window }],
      [probeOf('p1', 'shelf-1')],
    );
  const cold = figure('storage-cold', 'on_delay_seconds');
  it.each([
    { celsius: 17, until: HOUR, raised: false },
    { celsius: 16.9, until: cold - 10, raised: false },
    { celsius: 16.9, until: cold + 10, raised: true },
  ])('at $celsius °C for $until s under its window from 17 °C: $raised', ({ celsius, until, raised }) => {
    expect(
      rulesOf(
        every(10, 0, until, () => celsius),
        shelf([17, 25]),
      ).includes('storage-cold'),
    ).toBe(raised);
  });

  const moving = (from: number, kelvinsPerHour: number, hours: number) =>
    every(60, 0, hours * HOUR, (second) => from + (kelvinsPerHour * second) / HOUR);
  it.each([
    { from: 22, rate: 3, limit: 25 },
    { from: 20, rate: -3, limit: 17 },
  ])(
    'that goes from $from °C towards its limit of $limit °C is announced before it is there',
    ({ from, rate, limit }) => {
      const announced = first('storage-heading', moving(from, rate, 1), shelf([17, 25]));
      const left = (limit - (announced?.celsius ?? limit)) / rate;
      expect(left).toBeGreaterThan(0);
      expect(60 * left).toBeLessThanOrEqual(figure('storage-heading', 'horizon_minutes'));
    },
  );
  it('that holds still near its limit, or turns away from it, is not heading there', () => {
    expect(rulesOf(moving(24.8, 0, 3), shelf([17, 25]))).not.toContain('storage-heading');
    expect(rulesOf(moving(24.8, -2, 3), shelf([17, 25]))).not.toContain('storage-heading');
  });
});

describe('a probe', () => {
  const atWork = every(10, 0, 1200, swing(90, 1, 400));
  it('that falls below the melting range within a minute hangs in the air, until it is back', () => {
    const lifted = every(10, 1210, 2400, (second) => 25 + 65 * Math.exp(-(second - 1200) / 80));
    const rules = rulesOf([...atWork, ...lifted]);
    expect(rules).toContain('probe-out');
    const back = every(10, 2410, 3600, (second) => Math.min(90, 25 + (second - 2400) / 2));
    const { state } = waxWatch.stepAll(waxWatch.initial(), [...atWork, ...lifted, ...back], potLab());
    expect(waxWatch.openAlarms(state).find(({ rule }) => rule === 'probe-out')).toMatchObject({
      active: false,
    });
  });
  it('in wax that cools as slowly as wax does is in its place', () => {
    const cooling = every(10, 1210, 3 * HOUR, (second) => 22 + 68 * Math.exp(-(second - 1200) / 3600));
    expect(rulesOf([...atWork, ...cooling])).not.toContain('probe-out');
  });

  it('in a wax that freezes below the range of its class is in its place', () => {
    const minutes = (second: number) => (second - 1200) / 60;
    const freezing = every(10, 1210, 2400, (second) =>
      Math.max(90 - 3.5 * minutes(second), 61 - Math.max(0, minutes(second) - 8.3)),
    );
    expect(rulesOf([...atWork, ...freezing])).not.toContain('probe-out');
  });

  /** At 90 °C, but at 220 °C in each of the given readings. */
  const leaping = (...at: readonly number[]) =>
    every(10, 0, 1800, (second) => (at.includes(second) ? 220 : 90 + (second % 20) / 100));
  it('that leaps away and back once is let be, and twice within minutes is loose', () => {
    expect(rulesOf(leaping(600))).toEqual([]);
    expect(rulesOf(leaping(600, 660))).toEqual(['probe-loose']);
  });
  it('that leaps in every other reading for an hour is loose once, and burns nothing', () => {
    const loose = every(5, 0, HOUR, (second) => (second % 10 === 0 ? 90 : 220));
    const step = waxWatch.stepAll(waxWatch.initial(), loose, potLab());
    const raised = step.alarmChanges.filter(({ kind }) => kind.startsWith('raised'));
    expect(raised.map(({ alarm }) => alarm.rule)).toEqual(['probe-loose']);
  });

  const limit = figure('probe-drift', 'limit_celsius_difference');
  it.each([
    { kelvins: 0.6 * limit, raised: false },
    { kelvins: 1.8 * limit, raised: true },
  ])(
    'whose band creeps by $kelvins °C over a day, against its first days, drifts: $raised',
    ({ kelvins, raised }) => {
      const crept = (second: number) =>
        Math.min(1, Math.max(0, (second - 40 * HOUR) / (24 * HOUR))) * kelvins;
      const entries = every(30, 0, 72 * HOUR, (second) => swing(89, 1.5, 900)(second) + crept(second));
      expect(rulesOf(entries).includes('probe-drift')).toBe(raised);
    },
  );

  it.each([
    { kelvins: 0.6 * limit, raised: false },
    { kelvins: 1.8 * limit, raised: true },
  ])(
    'of a pot that is held steady drifts when it creeps by $kelvins °C over a day: $raised',
    ({ kelvins, raised }) => {
      const crept = (second: number) =>
        Math.min(1, Math.max(0, (second - 40 * HOUR) / (24 * HOUR))) * kelvins;
      /** Every two hours cold wax goes in. */
      const dip = (second: number) => 2 * Math.exp(-(second % (2 * HOUR)) / 600);
      const entries = every(30, 0, 72 * HOUR, (second) => 89 + crept(second) - dip(second));
      expect(rulesOf(entries).includes('probe-drift')).toBe(raised);
    },
  );

  it('whose band creeps within three hours, and scatters from then on as it did before, drifts', () => {
    const crept = (second: number) =>
      Math.min(1, Math.max(0, (second - 40 * HOUR) / (3 * HOUR))) * 1.2 * limit;
    const entries = every(30, 0, 48 * HOUR, (second) => swing(89, 1.5, 900)(second) + crept(second));
    expect(rulesOf(entries)).toContain('probe-drift');
  });

  it.each([
    { kelvins: 0.6 * limit, raised: false },
    { kelvins: 1.8 * limit, raised: true },
  ])(
    'of a pot that is off drifts when it leaves the room by $kelvins °C overnight: $raised',
    ({ kelvins, raised }) => {
      const lab = labOf(
        [dipPot, { id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-1' }],
        [probeOf('p1', 'pot-1'), probeOf('s1', 'shelf-1')],
      );
      const room = (second: number) => 20 + 0.3 * Math.sin(second / 9000);
      const crept = (second: number) => kelvins * Math.max(0, (second - 24 * HOUR) / (12 * HOUR));
      const entries = [
        ...every(60, 0, 36 * HOUR, room, 's1'),
        ...every(60, 1, 36 * HOUR, (second) => room(second) + 0.4 + crept(second)),
      ].sort((a, b) => a.receivedAt - b.receivedAt);
      expect(rulesOf(entries, lab).includes('probe-drift')).toBe(raised);
    },
  );

  it('of a pot that is off does not drift when the probe of one of two places around it does', () => {
    const lab = labOf(
      [
        dipPot,
        { id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-1' },
        { id: 'room-1', name: 'Room', kind: 'room', wax: null },
      ],
      [probeOf('p1', 'pot-1'), probeOf('s1', 'shelf-1'), probeOf('r1', 'room-1')],
    );
    const crept = (second: number) => 4 * limit * Math.max(0, (second - 24 * HOUR) / (12 * HOUR));
    const entries = [
      ...every(60, 0, 36 * HOUR, (second) => 20 + crept(second), 's1'),
      ...every(60, 1, 36 * HOUR, () => 20.5),
      ...every(60, 2, 36 * HOUR, () => 20.2, 'r1'),
    ].sort((a, b) => a.receivedAt - b.receivedAt);
    expect(rulesOf(entries, lab)).not.toContain('probe-drift');
  });

  it('of a pot that warms up after a night of rest does not keep its thermostat from being learned', () => {
    const lab = labOf(
      [dipPot, { id: 'shelf-1', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-1' }],
      [probeOf('p1', 'pot-1'), probeOf('s1', 'shelf-1')],
    );
    const [on, warm, stuck] = [12 * HOUR - 240, 13.5 * HOUR, 17 * HOUR];
    const pot = (second: number): number => {
      if (second < on) return 20;
      if (second < warm) return Math.min(88, 20 + (second - on) / 60);
      return second < stuck ? swing(89, 1.5, 600)(second) : 89 + (second - stuck) / 60;
    };
    const entries = [
      ...every(60, 0, stuck + 600, () => 20, 's1'),
      ...every(60, 1, warm, pot),
      ...every(15, warm + 16, stuck + 600, pot),
    ].sort((a, b) => a.receivedAt - b.receivedAt);
    expect(rulesOf(entries, lab)).toContain('runaway');
  });
});
