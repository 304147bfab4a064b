import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
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
import { waxWatch } from '../wax-watch.ts';
import { HOUR, every, run, open, begun } from '../../../tests/pot-runs.ts';

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

  it('is not judged by suspect readings, but is announced whether or not the time of readings is certain', () => {
    const twice = (quality: Quality) => [0, 10].map((second) => readingOf('p1', second, 130, { quality }));
    expect(begun(twice('suspect'))).toEqual([]);
    expect(begun(twice('uncertain-time'))).toEqual(['over-ceiling']);
  });

  it('hides behind the fire risk that grew out of it', () => {
    const grown = [...every(30, 0, 30, () => 140), ...every(30, 60, 90, () => 151)];
    expect(open(grown)).toEqual(['fire-risk B', 'over-ceiling H']);
  });

  it('is raised anew when it is still so half an hour after it was acknowledged', () => {
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
  it('names the near end of the band where its whole minutes differ from those of the middle', () => {
    const announced = [40, 55, 70, 85, 100, 115, 130].flatMap((secondsPerKelvin) => {
      const climb = every(10, 0, 900, (second) => 92 + second / secondsPerKelvin + 0.05 * Math.sin(second));
      return run(climb).findings.filter(({ evidence }) => 'timing' in evidence);
    });
    expect(announced.length).toBeGreaterThan(0);
    for (const { evidence } of announced) {
      expect(evidence.timing).toBe('band');
      expect(Number(evidence.earliest_minutes)).toBeLessThan(Number(evidence.left_minutes));
      expect(Number(evidence.earliest_minutes)).toBeGreaterThan(0);
    }
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
  it('rings in the place of a runaway, within the window too: one climb, one alarm that calls', () => {
    const lab = labOf([{ ...dipPot, window_celsius: [85, 98] }], [probeOf('p1', 'pot-1')]);
    const cycling = (second: number) => 88 + 2 * Math.sin(second / 80);
    const climbing = (second: number) => cycling(2 * HOUR) + (second - 2 * HOUR) / 30;
    const last = 2 * HOUR + 210;
    const entries = [...every(10, 0, 2 * HOUR, cycling), ...every(10, 2 * HOUR + 10, last, climbing)];
    expect(climbing(last)).toBeLessThan(97);
    const rang = run(entries, lab).alarmChanges.filter(
      ({ alarm, kind }) => kind === 'raised' && alarm.suppressedBy === null,
    );
    expect(rang.map(({ alarm }) => alarm.rule)).toEqual(['heading-over']);
  });
});
