// Days of a place where patterns wait, and of a burnout furnace.

import type { Pattern } from '../../lab/pattern.ts';
import type { Station } from '../../lab/station.ts';
import type { StationKind } from '../../lab/station-kinds.ts';
import { instant } from '../rehearsal.ts';
import {
  clock,
  type Course,
  courses,
  DAY,
  every,
  HOUR,
  inTime,
  labWith,
  swing,
  type Trace,
  towards,
} from './trace.ts';

const place = (kind: StationKind): Station => ({
  id: 'place',
  name: 'Place',
  kind,
  wax: 'inlay-type-1',
  window_celsius: [17, 25],
});

const at = (second: number): string => new Date(instant(second)).toISOString();

export const patternAt = (station: string, tolerance_micrometres: number, wax: Pattern['wax']): Pattern => ({
  id: 'w1',
  caseReference: 'case 1',
  wax,
  technique: 'layered',
  length_millimetres: 30,
  tolerance_micrometres,
  madeAt: at(0),
  madeBy: 'Mira',
  stays: [{ station, from: at(0), to: null }],
  fate: null,
});

const calm = swing(21, 0.3, 4 * HOUR);
const BEFORE = 8 * HOUR;

/** Traces of a place; each begins with a calm morning. */
export function placeTraces(kind: StationKind): readonly Trace[] {
  const lab = labWith(place(kind), { more: { patterns: [patternAt('place', 400, 'inlay-type-1')] } });
  const before = every(60, 0, BEFORE - 60, calm);
  const traceOf = (name: string, ...parts: readonly (readonly [from: number, course: Course])[]): Trace => ({
    name,
    lab,
    before,
    entries: every(60, BEFORE, BEFORE + 30 * HOUR, courses([0, calm], ...parts)),
  });
  const from = (hours: number): number => BEFORE + hours * HOUR;
  return [
    traceOf(
      'a day that grows too warm, and cool again',
      [from(1), (second) => 21 + ((second - from(1)) / HOUR) * 1.9],
      [from(4), (second) => 26.7 - ((second - from(4)) / HOUR) * 1.1],
      [from(9), calm],
    ),
    traceOf(
      'a night that grows too cold, and warm again',
      [from(2), (second) => 21 - ((second - from(2)) / HOUR) * 1.4],
      [from(6), (second) => 15.4 + ((second - from(6)) / HOUR) * 1.1],
      [from(10), calm],
    ),
    traceOf(
      'a window that is opened',
      [from(3), (second) => towards(21, 18.2, 900)(second - from(3))],
      [from(4), (second) => towards(18.2, 21, 900)(second - from(4))],
      [from(6), calm],
    ),
    traceOf('a slow swing that stays within its limits', [
      from(1),
      (second) => 21 + 2.6 * Math.sin(((second - from(1)) / (9 * HOUR)) * 2 * Math.PI),
    ]),
    {
      name: 'a warm day where the limit is that of the wax class',
      lab: labWith({ id: 'place', name: 'Place', kind, wax: 'inlay-type-1' }),
      before,
      entries: every(
        60,
        BEFORE,
        from(12),
        (second) => 21 + 6 * Math.sin(((second - BEFORE) / (12 * HOUR)) * Math.PI),
      ),
    },
    {
      name: 'a pattern of a softer wax on a warm day',
      lab: labWith(
        { ...place(kind), wax: null, window_celsius: [10, 40] },
        {
          more: {
            patterns: [patternAt('place', 100_000, 'utility')],
            waxOverrides: { utility: { storageMax: 22 } },
          },
        },
      ),
      before,
      entries: every(60, BEFORE, from(8), (second) => (second > from(1) && second < from(4) ? 22.8 : 21)),
    },
    {
      name: 'the Friday before a weekend that a pattern does not outlast',
      lab: labWith(place(kind), { more: { patterns: [patternAt('place', 1, 'inlay-type-1')] } }),
      before: every(600, 0, clock(2, 8), () => 22.5),
      entries: every(300, clock(2, 8) + 300, clock(2, 8) + 4 * DAY, () => 22.5),
    },
  ];
}

/** A furnace that climbs, holds, and is opened too soon, later hotter than its investment withstands. */
export function furnaceTraces(kind: StationKind): readonly Trace[] {
  const course = courses(
    [0, (second) => 25 + (second / HOUR) * 700],
    [0.9 * HOUR, () => 655],
    [1.2 * HOUR, (second) => 655 - ((second - 1.2 * HOUR) / HOUR) * 600],
    [2 * HOUR, (second) => 175 + ((second - 2 * HOUR) / HOUR) * 400],
    [4.1 * HOUR, (second) => 1015 - ((second - 4.1 * HOUR) / HOUR) * 100],
  );
  return [
    {
      name: 'a burnout that is too fast, too short, and then too hot',
      lab: labWith({ id: 'place', name: 'Furnace', kind, wax: null }),
      before: [],
      entries: inTime(every(20, 0, 8 * HOUR, course)),
    },
  ];
}
