// What happens to gateways, to patterns and to the program itself.

import type { SelfCheckEntry } from '../../lab/entry.ts';
import type { Pattern } from '../../lab/pattern.ts';
import type { Station } from '../../lab/station.ts';
import { gatewaySays, instant, labOf, probeOf, qualifyEntries, readingOf } from '../rehearsal.ts';
import { patternAt } from './place-days.ts';
import { every, HOUR, inTime, labWith, ticks, type Trace } from './trace.ts';

const shelf: Station = { id: 'place', name: 'Shelf', kind: 'shelf', wax: 'inlay-type-1' };
const trio = labOf(
  [shelf],
  ['p1', 'p2', 'p3'].map((id) => probeOf(id, 'place')),
);
const alive = (second: number): number => 20 + Math.sin(second * second) / 20;
const spoken = inTime(...['p1', 'p2', 'p3'].map((probe, index) => every(10, index, 600, alive, probe)));

const silentGateway: Trace = {
  name: 'three probes of a gateway that fall silent, and speak again',
  lab: trio,
  before: [],
  entries: inTime(
    spoken,
    ticks(10, 610, 3000),
    ...['p1', 'p2', 'p3'].map((probe, index) => every(10, 3001 + index, 4000, alive, probe)),
  ),
};

const offlineGateway: Trace = {
  name: 'a gateway that says goodbye, and is back after twenty minutes',
  lab: trio,
  before: [],
  entries: inTime(
    spoken,
    [gatewaySays(700, 'g1', false), gatewaySays(1900, 'g1', true)],
    ticks(10, 701, 4000),
    ...['p1', 'p2', 'p3'].map((probe, index) => every(10, 1901 + index, 4000, alive, probe)),
  ),
};

/** Ten minutes behind, and then right. */
const wrongClock: Trace = {
  name: 'a gateway whose clock is ten minutes slow until somebody sets it',
  lab: labWith(shelf),
  before: [],
  entries: qualifyEntries(
    inTime(
      Array.from({ length: 720 }, (_, index) =>
        readingOf('p1', index * 10 - (index < 240 ? 600 : 0), alive(index), { arrives: index * 10 }),
      ),
      ticks(30, 5, 7200),
    ),
    labWith(shelf),
  ),
};

const PARTS: readonly SelfCheckEntry['part'][] = ['store', 'disk', 'phone-subscriptions', 'channel'];
const selfTraces = PARTS.map((part): Trace => {
  const check = (second: number, ok: boolean): SelfCheckEntry => ({
    kind: 'self-check',
    receivedAt: instant(second),
    part,
    name: '',
    ok,
    detail: 'no answer',
  });
  return {
    name: `${part} that fails for an hour`,
    lab: labWith(shelf),
    before: [],
    entries: inTime(Array.from({ length: 720 }, (_, index) => check(index * 10, index < 60 || index >= 420))),
  };
});

const shelfWith = (pattern: Pattern) => labWith(shelf, { more: { patterns: [pattern] } });
const warmFor = (fromHours: number, toHours: number) =>
  every(600, fromHours * HOUR, toHours * HOUR, (second) => (second < 30 * HOUR ? 24 : 21));

/** Somebody finds that its tolerance was entered wrong, and that it lies on its die. */
const waitingPattern = (name: string, tolerance_micrometres: number): Trace => {
  const pattern = patternAt('place', tolerance_micrometres, 'inlay-type-1');
  return {
    name,
    lab: shelfWith(pattern),
    before: [],
    entries: warmFor(0, 60),
    afterwards: {
      lab: shelfWith({ ...pattern, tolerance_micrometres: 100_000, isMadeOnDie: true }),
      entries: warmFor(60.2, 84),
    },
  };
};

export const LAB_TRACES: readonly Trace[] = [
  silentGateway,
  offlineGateway,
  wrongClock,
  ...selfTraces,
  waitingPattern('a pattern that will not keep its tolerance', 40),
  waitingPattern('a pattern that stands beyond its standing time', 4000),
];
