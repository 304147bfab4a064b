// What is shown of an intent whose time is up.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../lab/entry.ts';
import { actAt, instant, potLab, tickAt } from '../../tests/rehearsal.ts';
import { waxWatch } from './wax-watch.ts';

const HOUR = 3600;
const cleaning = { station: 'pot-1', by: 'Mira', kind: 'cleaning' } as const;
const meant = actAt(0, { ...cleaning, type: 'intent', until: instant(600) });
const ended = (...entries: readonly Entry[]) =>
  waxWatch
    .statuses(waxWatch.stepAll(waxWatch.initial(), [meant, ...entries], potLab()).state, potLab())[0]
    ?.endedIntents?.map(({ kind }) => kind);

describe('an intent whose time is up', () => {
  it('is reported as ended for an hour', () => {
    expect(ended(tickAt(599))).toBeUndefined();
    expect(ended(tickAt(600))).toEqual(['cleaning']);
    expect(ended(tickAt(600 + HOUR - 1))).toEqual(['cleaning']);
    expect(ended(tickAt(600 + HOUR))).toBeUndefined();
  });
  it('is not reported when a person took it back before', () => {
    expect(ended(actAt(10, { ...cleaning, type: 'intent-ended' }), tickAt(700))).toBeUndefined();
  });
  it('is not reported once the same is meant again', () => {
    const again = actAt(700, { ...cleaning, type: 'intent', until: instant(900) });
    expect(ended(tickAt(650), again, tickAt(800))).toBeUndefined();
  });
});
