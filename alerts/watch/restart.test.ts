// A watch that was off for some minutes, as after a power cut: what did not come in that time is nobody's silence.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { dipPot, instant, labOf, probeOf, qualifyEntries, readingOf, shelf } from '../../tests/rehearsal.ts';
import { waxWatch } from './wax-watch.ts';

const lab = labOf(
  [dipPot, { ...dipPot, id: 'pot-2', name: 'Dip pot 2' }, shelf],
  [
    probeOf('p1', 'pot-1', { gateway: 'g1' }),
    probeOf('p2', 'pot-2', { gateway: 'g2' }),
    probeOf('s1', 'shelf-1', { gateway: 'g3' }),
  ],
);
const CELSIUS = { p1: 90, p2: 21, s1: 20 } as const;
const GATEWAYS = { p1: 'g1', p2: 'g2', s1: 'g3' } as const;
type ProbeId = keyof typeof CELSIUS;

/** Ticks of a process every five seconds, and readings of each probe every ten from its second on. */
function running(from: number, to: number, readsFrom: Partial<Record<ProbeId, number>>): readonly Entry[] {
  const entries: Entry[] = [];
  for (let second = from; second < to; second += 5) {
    const process = { startedAt: instant(from), runningMillis: (second - from) * 1000 };
    entries.push({ kind: 'tick', receivedAt: instant(second), process });
    if (second % 10 !== 0) continue;
    for (const probe of ['p1', 'p2', 's1'] as const)
      if (second >= (readsFrom[probe] ?? Number.POSITIVE_INFINITY))
        entries.push(readingOf(probe, second + 1, CELSIUS[probe], { gateway: GATEWAYS[probe] }));
  }
  return entries;
}
const before = running(0, 1200, { p1: 0, p2: 0, s1: 0 });
const changesOf = (entries: readonly Entry[]) =>
  waxWatch.stepAll(waxWatch.initial(), qualifyEntries(entries, lab), lab).alarmChanges;
const called = (entries: readonly Entry[]) =>
  changesOf(entries)
    .filter(({ kind, alarm }) => /^(raised|unsuppressed)/.test(kind) && !alarm.suppressedBy)
    .map(({ alarm }) => `${alarm.subject} ${alarm.rule}`)
    .filter((name) => /lost|silent/.test(name));

describe('a program that starts again after some minutes', () => {
  it.each([400, 800])('blames no gateway for the %i s in which it did not run', (down) => {
    const again = 1200 + down;
    const after = running(again, again + 1800, { p1: again + 30, p2: again + 120, s1: again + 200 });
    expect(called([...before, ...after])).toEqual([]);
  });

  it.each([
    [200, []],
    [400, ['Dip pot 1']],
    [2000, ['Dip pot 1']],
  ])('names once, as past, what was on when it stopped %i s ago', (down, hot) => {
    const again = 1200 + down;
    const readsAtOnce = [readingOf('s1', again - 1, 20, { gateway: 'g3' })];
    const after = running(again, again + 600, { p1: again, p2: again, s1: again });
    const learned = changesOf([...before, ...readsAtOnce, ...after]).filter(({ kind }) => kind === 'learned');
    expect(learned.map(({ alarm }) => alarm.evidence.hot_stations)).toEqual(hot);
  });

  it('names what does not come back within its usual time', () => {
    const after = running(1700, 3500, { p1: 1730, s1: 1760 });
    expect(called([...before, ...after])).toEqual(['p2 probe-silent']);
  });

  it('names a lab that stays dark once', () => {
    expect(called([...before, ...running(1700, 3500, {})])).toEqual(['site gateway-lost']);
  });

  it('goes on counting a silence where it was started again within a minute', () => {
    const restarts = [0, 1, 2, 3, 4, 5].flatMap((turn) =>
      running(1220 + turn * 120, 1320 + turn * 120, { p1: 0, s1: 0 }),
    );
    expect(called([...before, ...restarts])).toEqual(['p2 probe-silent']);
  });
});
