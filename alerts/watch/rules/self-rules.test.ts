import { describe, expect, it } from 'vitest';
import type { SelfCheckEntry } from '../../../lab/entry.ts';
import { instant, potLab, tickAt } from '../../../tests/rehearsal.ts';
import { waxWatch } from '../wax-watch.ts';
import { every, run, open } from '../../../tests/place-runs.ts';

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
