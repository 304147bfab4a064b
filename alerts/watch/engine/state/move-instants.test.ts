import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../../lab/entry.ts';
import { potLab, readingOf, tickAt } from '../../../../tests/rehearsal.ts';
import { waxWatch } from '../../wax-watch.ts';

const HOUR = 3600;
const begun = (entries: readonly Entry[], lab = potLab()) =>
  waxWatch
    .stepAll(waxWatch.initial(), entries, lab)
    .alarmChanges.filter(({ kind }) => kind === 'raised')
    .map(({ alarm }) => alarm.rule);

/** Readings of a pot at work, every ten seconds for ten minutes, by the gateway's own right clock. */
const atWork = (from: number, shift: number): Entry[] =>
  Array.from({ length: 60 }, (_, index) =>
    readingOf('p1', from + 10 * index, 90, { arrives: from + 10 * index + shift }),
  );

describe('a collector whose clock is set back by an hour', () => {
  it('raises heat that comes after it as live, within two readings', () => {
    const hot = [600, 610, 620].map((second) => readingOf('p1', second, 160, { arrives: second }));
    const step = waxWatch.stepAll(waxWatch.initial(), [...atWork(0, HOUR), ...hot], potLab());
    const raised = step.alarmChanges.find(
      ({ kind, alarm }) => kind === 'raised' && alarm.rule === 'fire-risk',
    );
    expect(raised?.alarm.tense).toBe('now');
  });

  it('still finds a probe that falls silent after it', () => {
    const silent = [600, 700, 800, 900, 1000, 1100, 1200, 1300].map(tickAt);
    expect(begun([...atWork(0, HOUR), tickAt(595), ...silent])).toContain('probe-silent');
  });

  it('raises nothing while the pot goes on as before', () => {
    expect(begun([...atWork(0, HOUR), ...atWork(600, 0)])).toEqual([]);
  });
});

describe('a probe of the lab that has never sent anything', () => {
  const ticks = (minutes: number) => Array.from({ length: minutes + 1 }, (_, minute) => tickAt(60 * minute));

  it('is waited for as long as one that fell silent', () => {
    expect(begun(ticks(8))).toEqual([]);
  });

  it('is silent after that, and no longer once it sends', () => {
    const step = waxWatch.stepAll(
      waxWatch.initial(),
      [...ticks(12), readingOf('p1', 730, 22), readingOf('p1', 740, 22), tickAt(745)],
      potLab(),
    );
    expect(step.alarmChanges.map(({ kind, alarm }) => `${alarm.rule} ${kind} ${alarm.evidence.how}`)).toEqual(
      ['probe-silent raised never', 'probe-silent cleared never'],
    );
  });
});
