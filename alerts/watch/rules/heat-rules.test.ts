import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import type { Quality } from '../../../lab/reading.ts';
import {
  actAt,
  instant,
  potLab,
  probeOf,
  labOf,
  readingOf,
  tickAt,
  dipPot,
} from '../../../tests/rehearsal.ts';
import { alarmStateCode } from '../life/alarm-state.ts';
import { waxWatch } from '../wax-watch.ts';

const HOUR = 3600;
const every = (
  step: number,
  from: number,
  to: number,
  celsius: (second: number) => number,
  probe = 'p1',
): Entry[] => {
  const entries: Entry[] = [];
  for (let second = from; second <= to; second += step)
    entries.push(readingOf(probe, second, celsius(second)));
  return entries;
};
const run = (entries: readonly Entry[], lab: Lab = potLab()) =>
  waxWatch.stepAll(waxWatch.initial(), entries, lab);
const open = (entries: readonly Entry[], lab?: Lab) =>
  waxWatch.openAlarms(run(entries, lab).state).map((alarm) => `${alarm.rule} ${alarmStateCode(alarm)}`);
const begun = (entries: readonly Entry[], lab?: Lab) =>
  run(entries, lab)
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ rule }) => rule);
const sure = (uncertainty_celsius: number) =>
  labOf([dipPot], [probeOf('p1', 'pot-1', { uncertainty_celsius })]);

describe('a heater that is brought down', () => {
  const falling = (second: number) => Math.max(60, 101 - second / 20);

  it.each([
    { what: 'after it was over its ceiling', from: 0, hot: 101 },
    { what: 'shortly before closing', from: 8.5 * HOUR, hot: 90 },
  ])('$what is cooling, not outside its window', ({ from, hot }) => {
    const entries = [
      ...every(10, 0, 600, () => hot),
      ...every(10, from + 610, from + 610 + 1200, (second) => Math.min(hot, falling(second - from - 610))),
    ];
    expect(open(entries).filter((code) => code === 'outside-window B')).toEqual([]);
  });

  it('and is still below its window half an hour later is raised after all, in the middle of the day', () => {
    const entries = [...every(10, 0, 600, () => 101), ...every(10, 610, 610 + 3600, falling)];
    expect(open(entries)).toContain('outside-window B');
  });

  it('has no minutes to its ceiling any more', () => {
    const lab = potLab();
    const standing = (entries: readonly Entry[]) => waxWatch.statuses(run(entries, lab).state, lab)[0];
    const rising = every(5, 0, 300, (second) => 130 - 50 * Math.exp(-second / 600) - 1);
    expect(standing(rising)?.minutesToCeiling ?? null).not.toBeUndefined();
    const turned = [...rising, ...every(5, 305, 600, (second) => 99.3 - (second - 300) / 100)];
    expect(standing(turned)?.celsius).toBeGreaterThan(95);
    expect(standing(turned)?.minutesToCeiling).toBeNull();
  });
});

describe('over the ceiling of 100 °C', () => {
  it.each([
    { celsius: 100, uncertainty: 0, raised: false },
    { celsius: 100.01, uncertainty: 0, raised: true },
    { celsius: 99.5, uncertainty: 0.5, raised: false },
    { celsius: 99.51, uncertainty: 0.5, raised: true },
  ])('$celsius °C with ± $uncertainty °C: $raised', ({ celsius, uncertainty, raised }) => {
    const twice = every(10, 0, 10, () => celsius);
    expect(begun(twice, sure(uncertainty)).includes('over-ceiling')).toBe(raised);
    expect(begun(twice.slice(0, 1), sure(uncertainty))).toEqual([]);
  });

  it.each([
    { back: 98.51, seconds: 600, code: 'B' },
    { back: 98.5, seconds: 59, code: 'B' },
    { back: 98.5, seconds: 60, code: 'E' },
  ])('comes back to $back °C for $seconds s: state $code', ({ back, seconds, code }) => {
    const entries = [
      ...every(10, -10, 0, () => 101),
      readingOf('p1', 10, back),
      ...every(10, 20, 10 + seconds - (seconds % 10), () => back),
      ...(seconds % 10 === 0 ? [] : [readingOf('p1', 10 + seconds, back)]),
    ];
    expect(open(entries)).toContain(`over-ceiling ${code}`);
  });

  it('raises one alarm when it chatters at the edge of the deadband for an hour', () => {
    const step = run(every(5, 0, HOUR, (second) => (second % 20 < 10 ? 100.3 : 98.6)));
    const raised = step.alarmChanges.filter(
      ({ kind, alarm }) => kind.startsWith('raised') && alarm.rule === 'over-ceiling',
    );
    expect(raised).toHaveLength(1);
  });

  it('asks nothing of suspect readings, but is announced whether or not the time of readings is certain', () => {
    const twice = (quality: Quality) => [0, 10].map((second) => readingOf('p1', second, 130, { quality }));
    expect(begun(twice('suspect'))).toEqual([]);
    expect(begun(twice('uncertain-time'))).toEqual(['over-ceiling']);
  });

  it('hides behind the fire risk that grew out of it', () => {
    const grown = [...every(30, 0, 30, () => 140), ...every(30, 60, 90, () => 151)];
    expect(open(grown)).toEqual(['fire-risk B', 'over-ceiling H']);
  });

  it('asks anew when it is still so half an hour after it was acknowledged', () => {
    const alarm = `pot-1.over-ceiling.${instant(10)}`;
    const hot = every(10, 0, 1900, () => 101);
    const seen = actAt(11, { type: 'acknowledge', alarm, by: 'Mira' });
    const before = [...hot.slice(0, 2), seen, ...hot.slice(2, 181), tickAt(1810)];
    expect(open(before)).toContain('over-ceiling C');
    expect(open([...before, ...hot.slice(181, 182), tickAt(1811)])).toContain('over-ceiling B');
  });
});

describe('the fire risk', () => {
  it.each([
    { celsius: 150, step: undefined },
    { celsius: 150.1, step: 'switch-off' },
    { celsius: 174.9, step: 'switch-off' },
    { celsius: 175, step: 'smoking' },
    { celsius: 199, step: 'flash-point' },
  ])('at $celsius °C says $step', ({ celsius, step }) => {
    const found = run(every(10, 0, 10, () => celsius)).findings.find(({ rule }) => rule === 'fire-risk');
    expect(found?.evidence.step).toBe(step);
  });
});

describe('heading over the ceiling', () => {
  // τ = 20 min towards 130 °C from 95 °C: 100 °C is met after 20·ln(35/30) = 3.08 min.
  const rising = (second: number) => 130 - 35 * Math.exp(-second / 1200);
  it('is raised minutes before it gets there, with about the minutes that are left', () => {
    const { findings } = run(every(10, 0, 150, rising));
    const raised = findings.find(({ rule }) => rule === 'heading-over');
    expect(raised).toBeDefined();
    const left = (Math.log(35 / 30) * 1200 - ((raised?.at ?? 0) - instant(0)) / 1000) / 60;
    expect(Math.abs(Number(raised?.evidence.left_minutes) - left)).toBeLessThan(0.5);
  });
  it('is not raised of a pot that settles below its ceiling, nor of one that is warming up', () => {
    expect(begun(every(10, 0, 2 * HOUR, (second) => 97.5 - 2 * Math.exp(-second / 600)))).not.toContain(
      'heading-over',
    );
    expect(
      begun(every(10, 0, 1200, (second) => 130 - 108 * Math.exp(-second / 1200)).filter((_, i) => i < 90)),
    ).not.toContain('heading-over');
  });
  it('gives way to the ceiling: one cause, one alarm that calls', () => {
    const codes = open(every(10, 0, 300, rising));
    expect(codes.filter((code) => code.endsWith(' B'))).toEqual(['over-ceiling B']);
  });
});

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
  it('is patient while a pot warms up, for as long as the station says', () => {
    // Past 35 °C at 433 s, and steady below its window from 2000 s on; then twenty minutes of delay.
    const slow = every(10, 0, 7500, (second) => Math.min(22 + 0.03 * second, 82));
    const upTo = (second: number) => slow.slice(0, second / 10);
    const brisk = potLab(1, { 'outside-window': { warm_up_minutes: 30 } });
    expect(begun(upTo(6900))).not.toContain('outside-window');
    expect(begun(slow)).toContain('outside-window');
    expect(begun(upTo(3300), brisk)).not.toContain('outside-window');
    expect(begun(upTo(4500), brisk)).toContain('outside-window');
  });
  it('is not asked of a pot that was planned off, nor of one that cools and cools', () => {
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

describe('the heat dose', () => {
  const hot = { ...potLab(), waxOverrides: { 'inlay-dip': { doseAllowance: 5 } } };
  const dose = (entries: readonly Entry[]) =>
    waxWatch.statuses(run(entries, hot).state, hot)[0]?.doseEquivalentHours ?? 0;
  const hours = every(60, 0, 8 * HOUR, () => 90);
  it('raises half, most and all of the allowance once, in this order', () => {
    const steps = begun(hours, hot).filter((rule) => /dose|charge/.test(rule));
    expect(steps).toEqual(['heat-dose-half', 'heat-dose-high', 'charge-spent']);
  });
  it('starts at nought with a fresh charge and keeps 1 − f after a top-up', () => {
    const full = dose(hours);
    expect(full).toBeGreaterThan(7.9);
    const topped = actAt(8 * HOUR + 1, { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira' });
    const fresh = actAt(8 * HOUR + 1, {
      type: 'charge-changed',
      station: 'pot-1',
      wax: 'inlay-dip',
      grams: 500,
      by: 'Mira',
    });
    expect(dose([...hours, topped]) / full).toBeCloseTo(0.75, 10);
    expect(dose([...hours, fresh])).toBe(0);
  });
  it('goes on as if nothing had been entered when a change or a top-up is taken back', () => {
    const acts = {
      change: { type: 'charge-changed', station: 'pot-1', wax: 'sticky', grams: 500, by: 'Mira', id: 'a' },
      topUp: { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira', id: 'b' },
    } as const;
    const back = (id: string) => ({ type: 'charge-taken-back', station: 'pot-1', id, by: 'Mira' }) as const;
    const full = dose(hours);
    const before = hours.slice(0, 240);
    const after = hours.slice(240);
    for (const act of Object.values(acts)) {
      const mistaken = [...before, actAt(4 * HOUR, act), ...after];
      expect(dose(mistaken)).toBeLessThan(full * 0.9);
      expect(dose([...mistaken, actAt(8 * HOUR + 1, back(act.id))])).toBeCloseTo(full, 9);
    }
    const both = [...before, actAt(4 * HOUR, acts.change), ...after, actAt(8 * HOUR, acts.topUp)];
    const wrongOrder = run([...both, actAt(8 * HOUR + 1, back('a'))], hot);
    expect(wrongOrder.refusals.map(({ code }) => code)).toEqual(['nothing-to-take-back']);
    expect(dose([...both, actAt(8 * HOUR + 1, back('b')), actAt(8 * HOUR + 2, back('a'))])).toBeCloseTo(
      full,
      9,
    );
  });
  it('raises anew what a mistaken change had ended, once it is taken back', () => {
    const change = {
      type: 'charge-changed',
      station: 'pot-1',
      wax: 'inlay-dip',
      grams: 500,
      by: 'Mira',
      id: 'a',
    } as const;
    const back = { type: 'charge-taken-back', station: 'pot-1', id: 'a', by: 'Mira' } as const;
    const steps = begun(
      [
        ...hours,
        actAt(8 * HOUR + 1, change),
        ...every(60, 8 * HOUR + 60, 9 * HOUR, () => 90),
        actAt(9 * HOUR + 1, back),
        ...every(60, 9 * HOUR + 60, 10 * HOUR, () => 90),
      ],
      hot,
    );
    expect(steps.filter((rule) => rule === 'charge-spent')).toHaveLength(2);
  });
  it('can be taken back for a day, once', () => {
    const topUp = { type: 'topped-up', station: 'pot-1', fraction: 0.25, by: 'Mira', id: 'b' } as const;
    const back = { type: 'charge-taken-back', station: 'pot-1', id: 'b', by: 'Mira' } as const;
    const codes = (...at: readonly number[]) =>
      at.length === 0
        ? []
        : run(
            [...hours, actAt(8 * HOUR, topUp), ...at.map((second) => actAt(second, back))],
            hot,
          ).refusals.map(({ code }) => code);
    expect(codes(32 * HOUR)).toEqual([]);
    expect(codes(32 * HOUR + 1)).toEqual(['nothing-to-take-back']);
    expect(codes(9 * HOUR, 9 * HOUR + 1)).toEqual(['nothing-to-take-back']);
  });
  it('raised later counts from when it was done, within what means of ten minutes can tell', () => {
    const at = instant(4 * HOUR);
    const early = (act: 'topped-up' | 'charge-changed') =>
      act === 'topped-up'
        ? ({ type: act, station: 'pot-1', fraction: 0.25, by: 'Mira' } as const)
        : ({ type: act, station: 'pot-1', wax: 'inlay-dip', grams: 500, by: 'Mira' } as const);
    for (const act of ['topped-up', 'charge-changed'] as const) {
      const inTime = [...hours.slice(0, 240), actAt(4 * HOUR, early(act)), ...hours.slice(240)];
      const later = [...hours, actAt(8 * HOUR, { ...early(act), at })];
      expect(dose(later) / dose(inTime)).toBeCloseTo(1, 2);
    }
  });
  it('counts late readings where nothing was known, once, as if they had come in time', () => {
    const gap = hours.filter((_, index) => index < 100 || index >= 160);
    const end = hours.at(-1)?.receivedAt ?? instant(0);
    const late = hours.slice(100, 160).map((entry) => ({ ...entry, receivedAt: end }));
    expect(dose(gap)).toBeLessThan(dose(hours) * 0.9);
    expect(dose([...gap, ...late, ...late])).toBeCloseTo(dose(hours), 9);
  });
});

describe('what comes late', () => {
  const live = every(10, 0, 3600, () => 90);
  const news = (entries: readonly Entry[], on: Lab = potLab()) =>
    run(entries, on)
      .alarmChanges.filter(({ kind }) => kind === 'learned')
      .map(({ alarm }) => [
        alarm.rule,
        (alarm.raisedAt - instant(0)) / 1000,
        ((alarm.clearedAt ?? 0) - instant(0)) / 1000,
        alarm.evidence.value_celsius,
      ]);

  it('is announced once as past, with when and how bad, and never as an alarm', () => {
    const late = [1805, 1815, 1825].map((second) =>
      readingOf('p1', second, 120 + (second - 1805) / 10, { arrives: 3601 }),
    );
    const entries = [...live, ...late, tickAt(3610), tickAt(3662), tickAt(3667), tickAt(3700)];
    expect(news(entries)).toEqual([['over-ceiling', 1805, 1825, 122]]);
    const step = run(entries);
    expect(step.alarmChanges.map(({ kind }) => kind)).toEqual(['learned']);
    expect(waxWatch.openAlarms(step.state)).toEqual([]);
    expect(waxWatch.statuses(run([...live, ...late]).state, potLab())).toMatchObject([
      { condition: 'in-window', celsius: 90 },
    ]);
  });
  it('is announced by the worst cause alone, whatever the order in which it came', () => {
    const late = [1835, 1805, 1825, 1815].map((second) =>
      readingOf('p1', second, 160, { arrives: 3601 + second / 1e5 }),
    );
    expect(news([...live, ...late, tickAt(3700)])).toEqual([['fire-risk', 1805, 1835, 160]]);
  });
  it('is not announced of one hot reading alone', () => {
    expect(news([...live, readingOf('p1', 1805, 120, { arrives: 3601 }), tickAt(3700)])).toEqual([]);
  });
  it('is recorded however long past it is', () => {
    const [from, to] = [-40 * 86_400, 10 - 40 * 86_400];
    const old = [from, to].map((second) => readingOf('p1', second, 120, { arrives: 3601 }));
    expect(news([...live, ...old, tickAt(3700)])).toEqual([['over-ceiling', from, to, 120]]);
  });
  it('is announced anew when a second bunch makes it longer', () => {
    const bunch = (from: number, arrives: number) =>
      [0, 10, 20].map((second) => readingOf('p1', from + second, 120, { arrives }));
    const entries = [...live, ...bunch(1805, 3601), tickAt(3700), ...bunch(1905, 3701), tickAt(3800)];
    expect(news(entries)).toEqual([
      ['over-ceiling', 1805, 1825, 120],
      ['over-ceiling', 1805, 1925, 120],
    ]);
  });
  it('in a backlog that ends cool is announced as past', () => {
    const backlog = every(10, 0, 600, (second) => (second >= 200 && second < 400 ? 101 : 90)).map((entry) =>
      entry.kind === 'readings' ? { ...entry, receivedAt: instant(5000) } : entry,
    );
    const readings = backlog.filter(({ kind }) => kind === 'readings');
    expect(news([...readings, tickAt(5001)])).toMatchObject([['over-ceiling', 200, 460, 101]]);
    expect(run(readings).alarmChanges.map(({ kind }) => kind)).toEqual(['learned']);
  });
  it('in a backlog after which nothing comes is announced as far as it is known', () => {
    const backlog = [0, 10, 20].map((second) => readingOf('p1', second, 101, { arrives: 5000 }));
    const entries = [...backlog, tickAt(5010), tickAt(5061), tickAt(5066)];
    expect(news(entries)).toEqual([['over-ceiling', 0, 20, 101]]);
    expect(run(entries).alarmChanges.map(({ kind }) => kind)).toEqual(['learned']);
  });
  it('in a backlog becomes an alarm as soon as it is so now', () => {
    const backlog = [0, 10, 20].map((second) => readingOf('p1', second, 101, { arrives: 5000 }));
    const now = run([...backlog, readingOf('p1', 5000, 101, { arrives: 5001 })]);
    expect(now.findings.map(({ tense }) => tense)).toEqual(['learned', 'now']);
    expect(waxWatch.openAlarms(now.state)).toMatchObject([
      { tense: 'now', active: true, acknowledged: false },
    ]);
  });
});

describe('soaking', () => {
  const annealerOf = (piece: Record<string, number> = {}) =>
    labOf(
      [
        {
          id: 'pot-1',
          name: 'Annealer',
          kind: 'annealer',
          wax: 'inlay-type-1',
          window_celsius: [45, 55],
          ceiling_celsius: 60,
          rules: { 'soak-ready': piece },
        },
      ],
      [probeOf('p1', 'pot-1')],
    );
  const annealer = annealerOf();
  const loaded = (minutes: number) => [
    ...every(30, 0, 60, () => 50),
    actAt(61, { type: 'load-in', station: 'pot-1', load: 'ten sticks', by: 'Mira' }),
    ...every(30, 90, 61 + minutes * 60, () => 50),
    actAt(62 + minutes * 60, { type: 'load-out', station: 'pot-1', by: 'Mira' }),
  ];
  it.each([
    { minutes: 14, raised: 'soak-incomplete' },
    { minutes: 16, raised: 'soak-ready' },
  ])('for $minutes min raises $raised', ({ minutes, raised }) => {
    expect(begun(loaded(minutes), annealer)).toEqual([raised]);
  });

  // A stick of 20 mm in still air takes over half an hour to 44 °C at its axis, one of 30 mm about an hour.
  it.each([
    { piece: { stick_millimetres: 20 }, minutes: 20, raised: 'soak-incomplete' },
    { piece: { stick_millimetres: 20 }, minutes: 60, raised: 'soak-ready' },
    { piece: { stick_millimetres: 30 }, minutes: 40, raised: 'soak-incomplete' },
    { piece: { sheet_millimetres: 1.5 }, minutes: 16, raised: 'soak-ready' },
    { piece: { sheet_millimetres: 20 }, minutes: 30, raised: 'soak-incomplete' },
  ])('$piece for $minutes min raises $raised, by its core', ({ piece, minutes, raised }) => {
    expect(begun(loaded(minutes), annealerOf(piece))).toEqual([raised]);
  });
});

describe('figures of a rule that a station sets', () => {
  it('hold within their bounds', () => {
    const lab = potLab(1, { 'over-ceiling': { on_delay_seconds: 30 } });
    expect(begun([readingOf('p1', 0, 101), readingOf('p1', 29, 101)], lab)).toEqual([]);
    expect(begun([readingOf('p1', 0, 101), readingOf('p1', 30, 101)], lab)).toEqual(['over-ceiling']);
  });
});
