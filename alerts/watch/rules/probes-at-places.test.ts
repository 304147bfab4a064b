// Probes where patterns wait, held against each other and against what a door can do.

import { describe, expect, it } from 'vitest';
import type { Entry } from '../../../lab/entry.ts';
import { labOf, probeOf, START } from '../../../tests/rehearsal.ts';
import { every, HOUR, place, run } from '../../../tests/place-runs.ts';

const inTime = (...lists: readonly (readonly Entry[])[]) =>
  lists.flat().sort((a, b) => a.receivedAt - b.receivedAt);
const tenths = (celsius: number) => Math.round(celsius * 10) / 10;
const DAY = 24 * HOUR;
const daily = (second: number) => 20 + 1.5 * Math.sin((second / DAY) * 2 * Math.PI);
/** What began, with its probe and the hours after `since`. */
const begunAfter = (since: number, entries: readonly Entry[], lab = place('cabinet')) =>
  run(entries, lab)
    .findings.filter(({ phase }) => phase === 'begins')
    .map(({ at, rule, subject }) => ({ rule, subject, hours: ((at - START) / 1000 - since) / HOUR }));

describe('a probe at a place', () => {
  const since = 12 * HOUR;
  const loose = (values: readonly number[]) =>
    begunAfter(
      since,
      every(60, 0, since + HOUR, (at) => tenths(daily(at) + (values[(at - since) / 60] ?? 0))),
    ).filter(({ rule }) => rule === 'probe-loose');
  it('that leaps by 3 K to one side and to the other within minutes is loose', () => {
    expect(loose([0, 3, -3, 0])).toHaveLength(1);
  });
  it('that leaps by 3 K and back three times to one side, as a door that is opened often, is not', () => {
    expect(loose([0, -3, 0, -3, 0, -3, 0])).toEqual([]);
  });
});

describe('the probes of two places', () => {
  const since = 12 * HOUR;
  const lab = labOf(
    [
      { id: 'place', name: 'Place', kind: 'shelf', wax: 'inlay-type-1' },
      { id: 'room', name: 'Room', kind: 'room', wax: 'inlay-type-1' },
    ],
    [probeOf('p1', 'place'), probeOf('r1', 'room')],
  );
  const jumped = (first: (at: number) => number, second: (at: number) => number) =>
    begunAfter(
      since,
      inTime(
        every(60, 0, since + HOUR, (at) => tenths(first(at))),
        every(60, 20, since + HOUR, (at) => tenths(second(at)), 'r1'),
      ),
      lab,
    )
      .filter(({ rule, hours }) => rule === 'probe-jump' && hours > 0)
      .map(({ subject }) => subject)
      .sort();
  const warmer = (at: number) => daily(at) + 1.6;
  it('that are 1.6 K apart and change places jump', () => {
    const swapped = (at: number) => at > since;
    expect(
      jumped(
        (at) => (swapped(at) ? warmer(at) : daily(at)),
        (at) => (swapped(at) ? daily(at) : warmer(at)),
      ),
    ).toEqual(['p1', 'r1']);
  });
  it('of which one falls to the other when it is aired do not', () => {
    expect(jumped(daily, (at) => (at > since ? daily(at) : warmer(at)))).toEqual([]);
  });
});
