// What goes wrong with a probe, wherever it is.

import { heats, type StationKind } from '../../lab/station-kinds.ts';
import type { Station } from '../../lab/station.ts';
import { clock, type Course, DAY, every, HOUR, inTime, labWith, MINUTE, ticks, type Trace } from './trace.ts';

const stationOf = (kind: StationKind): Station => ({
  id: 'place',
  name: 'Place',
  kind,
  wax: 'inlay-type-1',
  ...(heats(kind) && { window_celsius: [50, 60], ceiling_celsius: 70 }),
});

/** Never twice the same, and without any rhythm. */
const scatter: Course = (second) => Math.sin(second * second) * 0.05;

/** Traces for every kind of station; a heater is at work, the others lie at the temperature of a room. */
export function probeTraces(kind: StationKind): readonly Trace[] {
  const station = stationOf(kind);
  const usual = heats(kind) ? 55 : 21;
  const lab = labWith(station);
  const pair = labWith(station, { probes: 2 });
  const alive: Course = (second) => usual + scatter(second);
  const before = every(10, 0, HOUR, alive);
  const until = 8 * HOUR;
  /** Its noise pauses for twenty minutes on the first day, and is gone on the second. */
  const calming: Course = (second) =>
    (second > 12 * HOUR && second <= 12 * HOUR + 20 * MINUTE) || (second > 26 * HOUR && second < 46 * HOUR)
      ? usual
      : alive(second);
  /** Kelvins, by hours. */
  const leaving = (hours: number) => 0.22 * Math.max(0, Math.min(hours, 8 - hours));
  const leap = heats(kind) ? 80 : 40;
  const further = kind === 'burnout-furnace' ? 900 : usual + leap;
  return [
    {
      name: 'a probe that falls silent for hours',
      lab,
      before,
      entries: inTime(
        every(10, HOUR + 10, 2 * HOUR, alive),
        ticks(30, 2 * HOUR, 5 * HOUR),
        every(60, 5 * HOUR, until, alive),
      ),
    },
    {
      name: 'a probe that scatters, and later does not',
      lab,
      before,
      entries: every(10, HOUR + 10, 4 * HOUR, (second) =>
        second < 2.5 * HOUR ? usual + 30 * scatter(second) : alive(second),
      ),
    },
    {
      name: 'a probe that leaps away and back again, for an hour',
      lab,
      before,
      entries: every(10, HOUR + 10, 5 * HOUR, (second) =>
        second < 2 * HOUR && second % 240 === 0 ? further : alive(second),
      ),
    },
    {
      name: 'a probe that steps and stays there',
      lab,
      before,
      entries: every(10, HOUR + 10, 30 * HOUR, (second) =>
        second < 2 * HOUR ? alive(second) : further - usual + alive(second),
      ),
    },
    {
      name: 'a probe that shows the same for an hour, at work',
      lab,
      before: every(10, 0, 2 * HOUR, alive),
      entries: every(10, 2 * HOUR + 10, 4 * HOUR, (second) => (second < 3.5 * HOUR ? usual : alive(second))),
    },
    {
      name: 'a probe that shows the same for days',
      lab,
      before: [],
      entries: every(300, 0, 5 * DAY, (second) => (second < 4.2 * DAY ? usual : alive(second))),
    },
    {
      name: 'a probe whose noise paused for twenty minutes before and now is gone for most of a day',
      lab,
      before: [],
      entries: every(60, 0, 48 * HOUR, calming),
    },
    {
      name: 'two probes that come apart and together again',
      lab: pair,
      before: [],
      entries: inTime(
        every(30, 0, until, alive),
        every(
          30,
          1,
          until,
          (second) => alive(second) + (second < 4 * HOUR ? second / HOUR : 8 - second / HOUR),
          'p2',
        ),
      ),
    },
    {
      name: 'two probes that kept a kelvin apart for a day, come further apart and together again',
      lab: pair,
      before: inTime(
        every(60, 0, DAY, alive),
        every(60, 1, DAY, (second) => alive(second) + 1, 'p2'),
      ),
      entries: inTime(
        every(60, DAY + 60, DAY + until, alive),
        every(
          60,
          DAY + 61,
          DAY + until,
          (second) => alive(second) + 1 + leaving((second - DAY) / HOUR),
          'p2',
        ),
      ),
    },
    {
      name: 'the days before and after a calibration is due',
      lab,
      before: [],
      entries: inTime(every(HOUR, 0, clock(13, 9), alive), ticks(10 * MINUTE, 0, clock(13, 9))),
      afterwards: {
        lab: { ...lab, probes: lab.probes.map(({ calibrationDue: _, ...probe }) => probe) },
        entries: inTime(
          every(HOUR, clock(13, 10), clock(16, 9), alive),
          ticks(10 * MINUTE, clock(13, 10), clock(16, 9)),
        ),
      },
    },
  ];
}
