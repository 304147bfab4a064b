// What a lab lives through in a trace that is made to show figures of rules: a lab, the days before, and what happens then.

import type { Entry } from '../../lab/entry.ts';
import type { Lab } from '../../lab/lab.ts';
import type { OwnFigures } from '../../lab/own-figures.ts';
import type { Station } from '../../lab/station.ts';
import { every, HOUR } from '../pot-runs.ts';
import { instant, labOf, probeOf, tickAt } from '../rehearsal.ts';

export interface Trace {
  readonly name: string;
  readonly lab: Lab;
  /** The days from which the watch learns what is usual. */
  readonly before: readonly Entry[];
  readonly entries: readonly Entry[];
  /** What follows once somebody has corrected the lab. */
  readonly afterwards?: { readonly lab: Lab; readonly entries: readonly Entry[] };
  /** Figures without which a condition would take weeks. */
  readonly figures?: OwnFigures;
}

export const MINUTE = 60;
export { every, HOUR };
export const DAY = 24 * HOUR;

/** Second 0 is a Wednesday at 09:00; the lab is open from 08:00 to 18:00. */
export const clock = (day: number, hour: number): number => day * DAY + (hour - 9) * HOUR;

export type Course = (second: number) => number;

export const ticks = (step: number, from: number, to: number): Entry[] =>
  Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, index) => tickAt(from + index * step));

export const inTime = (...lists: readonly (readonly Entry[])[]): readonly Entry[] =>
  lists.flat().sort((a, b) => a.receivedAt - b.receivedAt);

/** A lab with the station, its probes p1, p2, ..., and more stations with a probe each, named after them. */
export const labWith = (station: Station, { probes = 1, others = [], more = {} }: LabParts = {}): Lab =>
  labOf(
    [station, ...others],
    [
      ...Array.from({ length: probes }, (_, index) =>
        probeOf(`p${index + 1}`, station.id, {
          uncertainty_celsius: 0.3,
          calibrationDue: new Date(instant(clock(12, 9))).toISOString(),
        }),
      ),
      ...others.map(({ id }) => probeOf(`at-${id}`, id)),
    ],
    more,
  );

interface LabParts {
  readonly probes?: number;
  readonly others?: readonly Station[];
  readonly more?: Partial<Lab>;
}

/** Rising and falling evenly by `kelvins` around `middle`. */
export const swing =
  (middle: number, kelvins: number, periodSeconds: number): Course =>
  (second) =>
    middle + kelvins * (1 - 4 * Math.abs(((((second / periodSeconds) % 1) + 1) % 1) - 0.5));

/** From one temperature towards another, with a time constant. */
export const towards =
  (from: number, to: number, tauSeconds: number): Course =>
  (second) =>
    to + (from - to) * Math.exp(-Math.max(0, second) / tauSeconds);

/** One course after another, each from its second on. */
export const courses =
  (...parts: readonly (readonly [from: number, course: Course])[]): Course =>
  (second) =>
    (parts.findLast(([from]) => second >= from) ?? parts[0])?.[1](second) ?? Number.NaN;
