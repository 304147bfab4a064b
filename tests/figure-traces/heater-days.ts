// Days of a heater: three in good order, from which its habits are learned, and a Friday on which one thing is not.

import type { Entry } from '../../lab/entry.ts';
import type { OwnFigures } from '../../lab/own-figures.ts';
import type { Station } from '../../lab/station.ts';
import { holdsMeltedWax, STATION_KIND_FACTS, type StationKind } from '../../lab/station-kinds.ts';
import { actAt } from '../rehearsal.ts';
import {
  clock,
  type Course,
  courses,
  every,
  HOUR,
  inTime,
  labWith,
  MINUTE,
  swing,
  towards,
  type Trace,
} from './trace.ts';

/** A wax, its window and its ceiling for each kind of heater. */
const heaterOf = (kind: StationKind): Station => {
  const own = {
    pot: { wax: 'inlay-dip', window_celsius: [85, 95], ceiling_celsius: 100 },
    bath: { wax: 'bite-registration', window_celsius: [43, 55], ceiling_celsius: 65 },
    anneal: { wax: 'inlay-type-1', window_celsius: [45, 55], ceiling_celsius: 60 },
    working: { wax: 'inlay-type-1', window_celsius: [45, 55], ceiling_celsius: 60 },
  } as const;
  return { id: 'heater', name: 'Heater', kind, ...own[STATION_KIND_FACTS[kind].window ?? 'pot'] };
};

const ROOM = 20;
const PERIOD = 480;
const FRIDAY = 2;
const OFF = 17.75;

interface Heater {
  readonly station: Station;
  readonly low: number;
  readonly high: number;
  readonly middle: number;
  /** Below its window, above the room, and where no wax melts. */
  readonly stuck: number;
  /** At work under its thermostat. */
  readonly atWork: Course;
}

const heater = (kind: StationKind): Heater => {
  const station = heaterOf(kind);
  const [low = 0, high = 0] = station.window_celsius ?? [];
  const middle = (low + high) / 2;
  const stuck = low - (holdsMeltedWax(kind) ? 32 : 6.5);
  return { station, low, high, middle, stuck, atWork: swing(middle, 2, PERIOD) };
};

/** From the room up to `celsius` within so many minutes, from `second` on. */
const warmUp =
  (second: number, celsius: number, minutes: number): Course =>
  (at) =>
    ROOM + (celsius - ROOM) * Math.min(1, (at - second) / (minutes * MINUTE));

const off = (second: number, from: number): Course => {
  const falling = towards(from, ROOM, 1.5 * HOUR);
  return (at) => falling(at - second);
};

/** A day in good order: warm-up before opening, work, off shortly before closing. */
const usualDay = ({ middle, atWork }: Heater, day: number): readonly (readonly [number, Course])[] => [
  [clock(day, 7.75), warmUp(clock(day, 7.75), middle, 40)],
  [clock(day, 7.75) + 40 * MINUTE, atWork],
  [clock(day, OFF), off(clock(day, OFF), middle)],
];

/** Twice a minute at work, each two minutes by night. */
const sampled = (course: Course, fromDay: number, toDay: number, probe = 'p1'): Entry[] =>
  Array.from({ length: toDay - fromDay + 1 }, (_, index) => fromDay + index).flatMap((day) => [
    ...every(30, clock(day, 7.5), clock(day, 18.5) - 1, course, probe),
    ...every(120, clock(day, 18.5), clock(day + 1, 7.5) - 1, course, probe),
  ]);

const learnedDays = (one: Heater, probe?: string): Entry[] =>
  sampled(courses(...[-1, 0, 1].flatMap((day) => usualDay(one, day))), -1, 1, probe);

/** Friday as usual until `hour`, then something else. */
const friday = (one: Heater, ...parts: readonly (readonly [hour: number, course: Course])[]): Course =>
  courses(
    ...usualDay(one, FRIDAY).filter(([from]) => from < clock(FRIDAY, parts[0]?.[0] ?? 24)),
    ...parts.map(([hour, course]) => [clock(FRIDAY, hour), course] as const),
  );

const at = (hour: number): number => clock(FRIDAY, hour);

/** What happens on the Friday, by name. */
const FRIDAYS: Readonly<Record<string, (one: Heater) => Course>> = {
  'a thermostat that sticks for an hour and more, by and by': (one) =>
    friday(
      one,
      [11, (second) => one.middle + (second - at(11)) / 200],
      [12.5, (second) => one.middle + 27 + (second - at(12.5)) / 40],
      [13.5, (second) => one.middle + 117 - (second - at(13.5)) / 60],
      [15.5, (second) => Math.max(one.middle, one.middle - 3 - (second - at(15.5)) / 200)],
    ),
  'a heater that stays on overnight, with work until late': (one) =>
    friday(
      one,
      [17, one.atWork],
      [18.4, (second) => one.middle - 9 + (second - at(18.4)) / 40],
      [18.5, one.atWork],
    ),
  'a thermostat that sticks, with much power': (one) =>
    friday(
      one,
      [11, (second) => one.middle + (second - at(11)) / 60],
      [11.5, (second) => one.middle + 30 - (second - at(11.5)) / 60],
      [12, one.atWork],
    ),
  'a heater that is switched on again at night': (one) =>
    friday(
      one,
      [17.75, (second) => one.middle - Math.min(10, (second - at(17.75)) / 200)],
      [20, (second) => Math.min(one.middle, one.middle - 10 + (second - at(20)) / 100)],
      [21, one.atWork],
    ),
  'a heater that cools slowly': (one) =>
    friday(one, [17.75, (second) => one.middle - 2 - ((second - at(17.75)) / HOUR) * 2]),
  'a heater that stays far below its window': (one) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), one.stuck, 40)],
      [at(7.75) + 40 * MINUTE, swing(one.stuck, 0.4, HOUR)],
    ),
  'a weak heater': (one) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), one.middle, 75)],
      [at(9), one.atWork],
      [at(11), swing(one.middle - 4, 1, PERIOD)],
    ),
  'a band four kelvins lower until closing': (one) =>
    friday(one, [11, swing(one.middle - 4.5, 0.3, PERIOD)], [18, off(at(18), one.middle - 4.5)]),
  'a pot that holds little wax': (one) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), one.middle, 22)],
      [at(7.75) + 22 * MINUTE, swing(one.middle, 2, PERIOD / 1.7)],
      [at(13), one.atWork],
    ),
  'a thermostat that turns three times as often': (one) =>
    friday(one, [11, swing(one.middle, 1.6, PERIOD / 2.4)], [13, one.atWork]),
  'a band that creeps up and comes back': (one) =>
    friday(
      one,
      [9, (second) => one.atWork(second) + 2.4 * Math.min(1, (second - at(9)) / (3 * HOUR))],
      [14, one.atWork],
    ),
  'a heater outside its window, below, above, and below until closing': (one) =>
    friday(
      one,
      [9.5, (second) => one.low - 2.5 + ((second - at(9.5)) / HOUR) * 0.8],
      [12, one.atWork],
      [13, (second) => one.high + 2 - ((second - at(13)) / HOUR) * 0.8],
      [15, one.atWork],
      [16, () => one.low - 2],
    ),
  'a probe that hangs in the air for a while': (one) =>
    friday(
      one,
      [11, (second) => towards(one.middle, one.middle - 18, 60)(second - at(11))],
      [11.5, (second) => towards(one.middle - 18, one.middle, 240)(second - at(11.5))],
      [12.5, one.atWork],
    ),
  'a probe that hangs in the air, near a room': (one) =>
    friday(
      one,
      [11, (second) => towards(one.middle, ROOM + 5, 60)(second - at(11))],
      [11.5, (second) => towards(ROOM + 5, one.middle, 120)(second - at(11.5))],
      [12, one.atWork],
    ),
  'a bath that drifts to its edge': (one) =>
    friday(one, [10, (second) => one.atWork(second) + ((second - at(10)) / HOUR) * 1.5], [14, one.atWork]),
};

/** A top that differs from one cycle to the next, rising slowly: a contact that bounces. */
const bouncing = ({ middle }: Heater): Course => {
  const tops = [1.5, 0.2, 1.8, 0.8, 2, 0.5, 1.4, 0.1];
  let [celsius, isRising, turn] = [middle - 2, true, 0];
  return () => {
    celsius += isRising ? 30 / 190 : -30 / 60;
    if (isRising && celsius >= middle + (tops[turn % tops.length] ?? 2)) isRising = false;
    else if (!isRising && celsius <= middle - 2) [isRising, turn] = [true, turn + 1];
    return celsius;
  };
};

/** Two places of a cabinet that come apart, slowly, and together again. */
const unevenTrace = (one: Heater): Trace => {
  const apart = courses(
    [at(0), () => 0],
    [at(10.5), (second) => Math.min(4, (second - at(10.5)) / 900)],
    [at(12), (second) => 4 - (second - at(12)) / 900],
    [at(13), () => 0],
  );
  const [first, second] = ['p1', 'p2'].map((probe, index) =>
    sampled((moment) => usualFriday(one)(moment) - (index === 0 ? 0 : apart(moment)), FRIDAY, FRIDAY, probe),
  );
  return {
    name: 'two places that come apart',
    lab: labWith(one.station, { probes: 2 }),
    before: inTime(learnedDays(one, 'p1'), learnedDays(one, 'p2')),
    entries: inTime(first ?? [], second ?? []),
  };
};

type TraceOf = (name: string, course: Course) => Trace;

/** A load that is taken out too soon, and one that stays in. */
const loadTrace = (one: Heater): Trace => {
  const by = 'Mira';
  const station = 'heater';
  return {
    name: 'a load taken out after ten minutes, and one that stays in for hours',
    lab: labWith(one.station),
    before: learnedDays(one),
    entries: inTime(sampled(usualFriday(one), FRIDAY, FRIDAY), [
      actAt(at(10), { type: 'load-in', station, by, load: 'sticks' }),
      actAt(at(10.1), { type: 'load-out', station, by }),
      actAt(at(12), { type: 'load-in', station, by, load: 'sticks' }),
      actAt(at(15), { type: 'load-out', station, by }),
    ]),
  };
};

/** What a pot with little wax shows, each sign with the others switched off: at their defaults they stand in for one another. */
const lowPotTraces = (one: Heater, traceOf: TraceOf): readonly Trace[] => {
  const unseen = { share: 0.2, pace_ratio: 5, worked_ratio: 5, sinking_celsius_difference: 20 };
  const faster = friday(one, [10, swing(one.middle, 2, PERIOD / 1.7)], [14, one.atWork]);
  const sinking = friday(one, [10, swing(one.middle - 3, 2, PERIOD / 1.15)], [14, one.atWork]);
  const shown = (name: string, course: Course, figures: OwnFigures[string]): Trace => ({
    ...traceOf(name, course),
    figures: { 'low-pot': { ...unseen, ...figures } },
  });
  return [
    shown('cycles as wide as ever, passed through faster', faster, { pace_ratio: 1.3 }),
    shown('cycles of any width, passed through faster', faster, { worked_ratio: 1.22 }),
    shown('tops that sink while it turns more often', sinking, { sinking_celsius_difference: 1 }),
  ];
};

/** The charge of a pot at the end of its allowance, and a fresh one. */
const chargeTrace = (one: Heater): Trace => ({
  name: 'a charge that uses up its allowance before it is changed',
  lab: labWith(one.station, { more: { waxOverrides: { 'inlay-dip': { doseAllowance: 4 } } } }),
  before: [actAt(clock(-1, 7), { type: 'cleaned', station: 'heater', by: 'Mira' }), ...learnedDays(one)],
  entries: inTime(sampled(usualFriday(one), FRIDAY, FRIDAY), [
    actAt(at(7.5), { type: 'charge-changed', station: 'heater', by: 'Mira', wax: 'inlay-dip', grams: 500 }),
    actAt(at(16), { type: 'charge-changed', station: 'heater', by: 'Mira', wax: 'inlay-dip', grams: 500 }),
    actAt(at(16), { type: 'cleaned', station: 'heater', by: 'Mira' }),
  ]),
  figures: { 'cleaning-due': { limit_hours: 32 } },
});

/** Steady so far below its window on its first day. */
const unlearnedTrace = (one: Heater, below: number): Trace => ({
  name: `a first day, settled ${below} °C below the window and later within it`,
  lab: labWith(one.station),
  before: [],
  entries: [
    ...every(20, 0, 2 * HOUR, swing(one.low - below, below / 10, 900)),
    ...every(20, 2 * HOUR + 20, 4 * HOUR, one.atWork),
  ],
});

/** Nobody switches it on, and others of the lab are at work. */
const forgottenTrace = (one: Heater): Trace => ({
  name: 'a heater that nobody switches on, while another is at work',
  lab: labWith(one.station, { others: [otherHeater(one)] }),
  before: inTime(
    learnedDays(one),
    sampled(courses(...[-1, 0, 1].flatMap((day) => usualDay(one, day))), -1, 1, 'at-other'),
  ),
  entries: inTime(
    sampled(() => ROOM, FRIDAY, FRIDAY),
    sampled(usualFriday(one), FRIDAY, FRIDAY, 'at-other'),
  ),
});

const usualFriday = (one: Heater): Course => courses(...usualDay(one, FRIDAY));
const otherHeater = ({ station }: Heater): Station => ({ ...station, id: 'other', name: 'Other heater' });

/** The traces of a heater. */
export function heaterTraces(kind: StationKind): readonly Trace[] {
  const one = heater(kind);
  const facts = STATION_KIND_FACTS[kind];
  const lab = labWith(one.station);
  const before = learnedDays(one);
  const traceOf: TraceOf = (name, course) => ({
    name,
    lab,
    before,
    entries: sampled(course, FRIDAY, FRIDAY),
  });
  return [
    ...Object.entries(FRIDAYS).map(([name, of]) => traceOf(name, of(one))),
    traceOf('a contact that bounces', friday(one, [10, bouncing(one)], [14, one.atWork])),
    ...(facts.comparesZones ? [unevenTrace(one)] : []),
    ...(facts.softens ? [loadTrace(one)] : []),
    ...(facts.holdsMeltedWax ? [chargeTrace(one), ...lowPotTraces(one, traceOf)] : []),
    forgottenTrace(one),
    unlearnedTrace(one, 4),
    unlearnedTrace(one, 0.45),
  ];
}
