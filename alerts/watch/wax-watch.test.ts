import { describe, expect, it } from 'vitest';
import { waxWatch } from './wax-watch.ts';
import { gatewaySays, potLab, readingOf, START, tickAt } from '../../tests/rehearsal.ts';
import type { Entry } from '../../lab/entry.ts';

const run = (entries: readonly Entry[], lab = potLab()) => waxWatch.stepAll(waxWatch.initial(), entries, lab);
const codes = (entries: readonly Entry[], lab = potLab()) => {
  const { state } = run(entries, lab);
  return waxWatch.openAlarms(state).map(({ rule, subject }) => `${subject} ${rule}`);
};

describe('the watch', () => {
  it('raises one alarm at the second reading in a row above the ceiling, not at the first', () => {
    const readings = [readingOf('p1', 0, 99), readingOf('p1', 10, 101), readingOf('p1', 20, 101)];
    expect(run(readings.slice(0, 2)).alarmChanges).toEqual([]);
    const step = run([...readings, readingOf('p1', 30, 101)]);
    expect(step.alarmChanges.map(({ kind, alarm }) => [kind, alarm.rule])).toEqual([
      ['raised', 'over-ceiling'],
    ]);
  });

  it('leaves the state that it was given as it was', () => {
    const before = run([readingOf('p1', 0, 90)]).state;
    const text = JSON.stringify(before);
    waxWatch.stepAll(before, [readingOf('p1', 10, 130), tickAt(20)], potLab());
    expect(JSON.stringify(before)).toBe(text);
  });

  it('comes to the same from a state of its own as from one that it must leave as it was', () => {
    const entries = [0, 10, 20, 30, 40].flatMap((second) => [
      readingOf('p1', second, 99 + second / 10),
      tickAt(second + 5),
    ]);
    const whole = run([...entries, tickAt(400)]);
    let own = run([]).state;
    const changes: unknown[] = [];
    for (const entry of [...entries, tickAt(400)]) {
      const step = waxWatch.advance(own, [entry], potLab());
      own = step.state;
      changes.push(...step.alarmChanges);
    }
    expect(JSON.stringify(own)).toBe(JSON.stringify(whole.state));
    expect(changes).toEqual(whole.alarmChanges);
    expect(waxWatch.openAlarms(own)).toEqual(waxWatch.openAlarms(whole.state));
    expect(waxWatch.openAlarms(own).length).toBeGreaterThan(0);
  });

  it('raises a probe that fell silent, and ends it when the probe reports again', () => {
    const spoken = [0, 10, 20].map((second) => readingOf('p1', second, 90));
    // Eight minutes after the newest reading, by its arrival.
    expect(codes([...spoken, tickAt(80), tickAt(500)])).toEqual([]);
    expect(codes([...spoken, tickAt(80), tickAt(501)])).toEqual(['p1 probe-silent']);
    const { state } = run([...spoken, tickAt(80), tickAt(501), readingOf('p1', 510, 90), tickAt(511)]);
    expect(waxWatch.openAlarms(state).map(({ active }) => active)).toEqual([false]);
  });

  it('blames nobody for the time in which it was stopped itself', () => {
    const spoken = [0, 10, 20].map((second) => readingOf('p1', second, 90));
    expect(codes([...spoken, tickAt(4000), tickAt(4005)])).toEqual([]);
    const still = Array.from({ length: 98 }, (_, index) => tickAt(4000 + 5 * index));
    expect(codes([...spoken, ...still.slice(0, -1)])).toEqual([]);
    expect(waxWatch.openAlarms(run([...spoken, ...still]).state)).toMatchObject([
      { rule: 'probe-silent', evidence: { newest_at: START + 20_000 } },
    ]);
    expect(waxWatch.statuses(run([...spoken, tickAt(4000)]).state, potLab())).toMatchObject([
      { condition: 'no-data' },
    ]);
  });

  it('makes one alarm of a gateway whose eight probes lose their power together', () => {
    const lab = potLab(8);
    const spoken = [0, 10, 20].flatMap((second) =>
      lab.probes.map((probe, index) => readingOf(probe.id, second + index / 10, 90)),
    );
    const ticks = Array.from({ length: 600 }, (_, second) => tickAt(21 + second));
    expect(codes([...spoken, ...ticks], lab)).toEqual(['g1 gateway-lost']);
    expect(codes([...spoken, gatewaySays(30, 'g1', false), ...ticks.slice(10)], lab)).toEqual([
      'g1 gateway-lost',
    ]);
  });

  it('shows an old value as no data and keeps when it was measured', () => {
    const { state } = run([readingOf('p1', 0, 90), readingOf('p1', 10, 90), tickAt(71)]);
    expect(waxWatch.statuses(state, potLab())).toMatchObject([
      { condition: 'no-data', celsius: 90, at: START + 10_000 },
    ]);
  });
});
