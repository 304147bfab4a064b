import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import type { Lab } from '../../../lab/lab.ts';
import { instant, potLab, readingOf, tickAt } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { every, run } from '../../../tests/pot-runs.ts';

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
  it('is announced once by each cause where it rose through both limits and fell again', () => {
    const late = Array.from({ length: 121 }, (_, index) =>
      readingOf('p1', 605 + index * 20, index >= 40 && index <= 80 ? 160 : 120, {
        arrives: 3601 + index / 10,
      }),
    );
    expect(news([...live, ...late, tickAt(3700)])).toEqual([
      ['fire-risk', 1405, 2205, 160],
      ['over-ceiling', 605, 3005, 120],
    ]);
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
  it('is announced beside an alarm that was over before it and waits to be reset', () => {
    const hot = (second: number) => (second < 200 ? 101 : 90);
    const late = [1805, 1815, 1825].map((second) => readingOf('p1', second, 101, { arrives: 3601 }));
    const entries = [...every(10, 0, 3600, hot), ...late, tickAt(3700)];
    expect(news(entries)).toEqual([['over-ceiling', 1805, 1825, 101]]);
    expect(waxWatch.openAlarms(run(entries).state)).toMatchObject([
      { active: false, latched: true, count: 1 },
    ]);
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
