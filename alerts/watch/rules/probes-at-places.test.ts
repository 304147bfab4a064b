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

describe('the probes of one cabinet, a layer of air apart', () => {
  const since = 30 * HOUR;
  /** Each half a kelvin above the one below, and a few tenths more by day; at ten a door lets the lowest fall for some minutes. */
  const level = (index: number) => (second: number) => {
    const isOpen = index === 0 && Math.abs((second % DAY) - HOUR) < 240;
    return daily(second) + index * (0.5 + 0.1 * Math.sin((second / DAY) * 2 * Math.PI)) - (isOpen ? 2 : 0);
  };
  const inCabinet = (until: number, ...wrong: readonly ((celsius: number, second: number) => number)[]) =>
    begunAfter(
      since,
      inTime(
        ...wrong.map((own, index) =>
          every(
            60,
            index,
            since + until,
            (second) => tenths(own(level(index)(second), second)),
            `p${index + 1}`,
          ),
        ),
      ),
      place('cabinet', {}, wrong.length),
    ).filter(({ rule }) => rule.startsWith('probe-'));
  const right = (celsius: number) => celsius;
  const drifting = (celsius: number, second: number) =>
    celsius + (second > since ? (0.3 * (second - since)) / HOUR : 0);
  const stuck = (celsius: number, second: number) => (second > since ? daily(since) + 0.5 : celsius);

  it('say nothing on ordinary days with a door', () => {
    expect(inCabinet(42 * HOUR, right, right)).toEqual([]);
  });
  it('say nothing when the place gets 4 K colder, of which the one among the patterns shows less at first', () => {
    const falls = 12 * HOUR;
    const room = (second: number) =>
      20 +
      0.5 * Math.sin((second / DAY) * 2 * Math.PI) -
      4 * Math.sin((Math.max(0, Math.min(second - since, falls)) / falls) * Math.PI);
    /** Follows the air within two hours. */
    const among: number[] = [20];
    for (let second = 60; second <= since + DAY; second += 60) {
      const before = among.at(-1) ?? 20;
      among.push(before + (room(second) - before) / 120);
    }
    const following = (_: number, second: number) => among[Math.floor(second / 60)] ?? 20;
    expect(inCabinet(DAY, following, (_, second) => room(second))).toEqual([]);
  });
  it('are raised once for the pair before one of them has drifted by a kelvin', () => {
    const begun = inCabinet(4 * HOUR, right, drifting);
    expect(begun).toMatchObject([{ rule: 'probe-disagrees', subject: 'p1' }]);
    expect(begun[0]?.hours).toBeLessThan(1 / 0.3);
  });
  it('of which one of three drifts are raised at that one', () => {
    expect(inCabinet(4 * HOUR, right, drifting, right)).toMatchObject([{ subject: 'p2' }]);
  });
  it('of which one says the same while the other goes on is stuck', () => {
    expect(inCabinet(12 * HOUR, right, stuck)).toContainEqual(
      expect.objectContaining({ rule: 'probe-stuck', subject: 'p2' }),
    );
  });
});
