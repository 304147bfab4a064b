// Days of a heater: three in good order, from which its habits are learned, and a Friday on which one thing is not.

import type { Entry } from '../../lab/entry.ts';
import type { OwnFigures } from '../../lab/own-figures.ts';
import type { Station } from '../../lab/station.ts';
import {
  holdsMeltedWax,
  isThermostatic,
  STATION_KIND_FACTS,
  type StationKind,
} from '../../lab/station-kinds.ts';
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
  const byKind = own[STATION_KIND_FACTS[kind].window ?? 'pot'];
  return {
    id: 'heater',
    name: 'Heater',
    kind,
    ...byKind,
    ...(isThermostatic(kind) && { ready_by: '08:45' }),
  };
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

const heaterOfKind = (kind: StationKind): Heater => {
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
const sampleDays = (course: Course, fromDay: number, toDay: number, probe = 'p1'): Entry[] =>
  Array.from({ length: toDay - fromDay + 1 }, (_, index) => fromDay + index).flatMap((day) => [
    ...every(30, clock(day, 7.5), clock(day, 18.5) - 1, course, probe),
    ...every(120, clock(day, 18.5), clock(day + 1, 7.5) - 1, course, probe),
  ]);

/** From three days before Friday, or from more. */
const learnedDays = (heater: Heater, probe?: string, count = 3): Entry[] => {
  const days = Array.from({ length: count }, (_, index) => FRIDAY - count + index);
  return sampleDays(
    courses(...days.flatMap((day) => usualDay(heater, day))),
    FRIDAY - count,
    FRIDAY - 1,
    probe,
  );
};

/** Friday as usual until `hour`, then something else. */
const friday = (heater: Heater, ...parts: readonly (readonly [hour: number, course: Course])[]): Course =>
  courses(
    ...usualDay(heater, FRIDAY).filter(([from]) => from < clock(FRIDAY, parts[0]?.[0] ?? 24)),
    ...parts.map(([hour, course]) => [clock(FRIDAY, hour), course] as const),
  );

const at = (hour: number): number => clock(FRIDAY, hour);

/** What happens on the Friday, by name. */
const FRIDAYS: Readonly<Record<string, (heater: Heater) => Course>> = {
  'a thermostat that sticks for an hour and more, by and by': (heater) =>
    friday(
      heater,
      [11, (second) => heater.middle + (second - at(11)) / 200],
      [12.5, (second) => heater.middle + 27 + (second - at(12.5)) / 40],
      [13.5, (second) => heater.middle + 117 - (second - at(13.5)) / 60],
      [15.5, (second) => Math.max(heater.middle, heater.middle - 3 - (second - at(15.5)) / 200)],
    ),
  'a heater that stays on overnight, with work until late': (heater) =>
    friday(
      heater,
      [17, heater.atWork],
      [18.4, (second) => heater.middle - 9 + (second - at(18.4)) / 40],
      [18.5, heater.atWork],
    ),
  'a thermostat that sticks, with much power': (heater) =>
    friday(
      heater,
      [11, (second) => heater.middle + (second - at(11)) / 60],
      [11.5, (second) => heater.middle + 30 - (second - at(11.5)) / 60],
      [12, heater.atWork],
    ),
  'a heater that is switched on again at night': (heater) =>
    friday(
      heater,
      [17.75, (second) => heater.middle - Math.min(10, (second - at(17.75)) / 200)],
      [20, (second) => Math.min(heater.middle, heater.middle - 10 + (second - at(20)) / 100)],
      [21, heater.atWork],
    ),
  'a heater that cools slowly': (heater) =>
    friday(heater, [17.75, (second) => heater.middle - 2 - ((second - at(17.75)) / HOUR) * 2]),
  'a heater that stays far below its window': (heater) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), heater.stuck, 40)],
      [at(7.75) + 40 * MINUTE, swing(heater.stuck, 0.4, HOUR)],
    ),
  'a weak heater': (heater) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), heater.middle, 75)],
      [at(9), heater.atWork],
      [at(11), swing(heater.middle - 4, 1, PERIOD)],
    ),
  'a band four kelvins lower until closing': (heater) =>
    friday(heater, [11, swing(heater.middle - 4.5, 0.3, PERIOD)], [18, off(at(18), heater.middle - 4.5)]),
  'a pot that holds little wax': (heater) =>
    courses(
      [at(0), () => ROOM],
      [at(7.75), warmUp(at(7.75), heater.middle, 22)],
      [at(7.75) + 22 * MINUTE, swing(heater.middle, 2, PERIOD / 1.7)],
      [at(13), heater.atWork],
    ),
  'a thermostat that turns three times as often': (heater) =>
    friday(heater, [11, swing(heater.middle, 1.6, PERIOD / 2.4)], [13, heater.atWork]),
  'a band that creeps up and comes back': (heater) =>
    friday(
      heater,
      [9, (second) => heater.atWork(second) + 2.4 * Math.min(1, (second - at(9)) / (3 * HOUR))],
      [14, heater.atWork],
    ),
  'a heater outside its window, below, above, and below until closing': (heater) =>
    friday(
      heater,
      [9.5, (second) => heater.low - 2.5 + ((second - at(9.5)) / HOUR) * 0.8],
      [12, heater.atWork],
      [13, (second) => heater.high + 2 - ((second - at(13)) / HOUR) * 0.8],
      [15, heater.atWork],
      // Further than in the morning, for which people were called.
      [16, () => heater.low - 4],
    ),
  'a probe that hangs in the air for a while': (heater) =>
    friday(
      heater,
      [11, (second) => towards(heater.middle, heater.middle - 18, 60)(second - at(11))],
      [11.5, (second) => towards(heater.middle - 18, heater.middle, 240)(second - at(11.5))],
      [12.5, heater.atWork],
    ),
  'a probe that hangs in the air, near a room': (heater) =>
    friday(
      heater,
      [11, (second) => towards(heater.middle, ROOM + 5, 60)(second - at(11))],
      [11.5, (second) => towards(ROOM + 5, heater.middle, 120)(second - at(11.5))],
      [12, heater.atWork],
    ),
  'a bath that drifts to its edge': (heater) =>
    friday(
      heater,
      [10, (second) => heater.atWork(second) + ((second - at(10)) / HOUR) * 1.5],
      [14, heater.atWork],
    ),
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
const unevenTrace = (heater: Heater): Trace => {
  const apart = courses(
    [at(0), () => 0],
    [at(10.5), (second) => Math.min(4, (second - at(10.5)) / 900)],
    [at(12), (second) => 4 - (second - at(12)) / 900],
    [at(13), () => 0],
  );
  const [first, second] = ['p1', 'p2'].map((probe, index) =>
    sampleDays(
      (moment) => usualFriday(heater)(moment) - (index === 0 ? 0 : apart(moment)),
      FRIDAY,
      FRIDAY,
      probe,
    ),
  );
  return {
    name: 'two places that come apart',
    lab: labWith(heater.station, { probes: 2 }),
    before: inTime(learnedDays(heater, 'p1'), learnedDays(heater, 'p2')),
    entries: inTime(first ?? [], second ?? []),
  };
};

type TraceOf = (name: string, course: Course) => Trace;

/** A load that is taken out too soon, and one that stays in. */
const loadTrace = (heater: Heater): Trace => {
  const by = 'Mira';
  const station = 'heater';
  return {
    name: 'a load taken out after ten minutes, and one that stays in for hours',
    lab: labWith(heater.station),
    before: learnedDays(heater),
    entries: inTime(sampleDays(usualFriday(heater), FRIDAY, FRIDAY), [
      actAt(at(10), { type: 'load-in', station, by, load: 'sticks' }),
      actAt(at(10.1), { type: 'load-out', station, by }),
      actAt(at(12), { type: 'load-in', station, by, load: 'sticks' }),
      actAt(at(15), { type: 'load-out', station, by }),
    ]),
  };
};

/** Steady, but each half hour it falls by `kelvins` in three minutes, for six, and comes back in as many. */
const workedAt =
  (middle: number, kelvins: number): Course =>
  (second) => {
    const past = second % (30 * MINUTE);
    const away = Math.max(0, Math.min(past, 12 * MINUTE - past));
    return middle - (kelvins * away) / (3 * MINUTE);
  };

/** Each four hours a cold piece cools it by 8 K within a minute; it comes back in four. */
const withPieces =
  (course: Course): Course =>
  (second) => {
    const past = second % (4 * HOUR);
    return course(second) - Math.max(0, Math.min(past / MINUTE, (5 * MINUTE - past) / (4 * MINUTE))) * 8;
  };

/** What a pot with little wax shows, each sign with the others switched off: at their defaults they stand in for one another. */
const lowPotTraces = (heater: Heater, traceOf: TraceOf): readonly Trace[] => {
  const unseen = {
    share: 0.2,
    pace_ratio: 5,
    worked_ratio: 5,
    sinking_celsius_difference: 20,
    falls_ratio: 5,
  };
  const worked = { ...heater, atWork: withPieces(heater.atWork) };
  const faster = friday(worked, [10, swing(heater.middle, 2, PERIOD / 1.7)], [14, worked.atWork]);
  const sinking = friday(worked, [10, swing(heater.middle - 3, 2, PERIOD / 1.15)], [14, worked.atWork]);
  const steady = { ...heater, atWork: workedAt(heater.middle, 1) };
  const falling = friday(steady, [10, workedAt(heater.middle, 1.5)], [15, steady.atWork]);
  const shown = (name: string, course: Course, figures: OwnFigures[string]): Trace => ({
    ...traceOf(name, course),
    before: learnedDays(worked),
    figures: { 'low-pot': { ...unseen, ...figures } },
  });
  const firstDay = courses([0, heater.atWork], [6 * HOUR, swing(heater.middle, 2, PERIOD / 1.7)]);
  return [
    {
      name: 'a first day, on which it comes to cycle faster',
      lab: labWith(heater.station),
      before: [],
      entries: every(30, 0, 10 * HOUR, firstDay),
      figures: { 'low-pot': { ...unseen, pace_ratio: 1.3 } },
    },
    shown('cycles that are faster than work made them on the days before', faster, { worked_ratio: 1.1 }),
    shown('a pot that stands lower and turns more often', sinking, { sinking_celsius_difference: 1 }),
    {
      ...shown('a pot that work cools faster than on the days before', falling, { falls_ratio: 1.22 }),
      before: learnedDays(steady),
    },
  ];
};

/** The charge of a pot at the end of its allowance, and a fresh one. */
const chargeTrace = (heater: Heater): Trace => ({
  name: 'a charge that uses up its allowance before it is changed',
  lab: labWith(heater.station, { more: { waxOverrides: { 'inlay-dip': { doseAllowance: 4 } } } }),
  before: [actAt(clock(-1, 7), { type: 'cleaned', station: 'heater', by: 'Mira' }), ...learnedDays(heater)],
  entries: inTime(sampleDays(usualFriday(heater), FRIDAY, FRIDAY), [
    actAt(at(7.5), { type: 'charge-changed', station: 'heater', by: 'Mira', wax: 'inlay-dip', grams: 500 }),
    actAt(at(16), { type: 'charge-changed', station: 'heater', by: 'Mira', wax: 'inlay-dip', grams: 500 }),
    actAt(at(16), { type: 'cleaned', station: 'heater', by: 'Mira' }),
  ]),
  figures: { 'cleaning-due': { limit_hours: 32 } },
});

/** Steady so far below its window on its first day. */
const unlearnedTrace = (heater: Heater, below: number): Trace => ({
  name: `a first day, settled ${below} °C below the window and later within it`,
  lab: labWith(heater.station),
  before: [],
  entries: [
    ...every(20, 0, 2 * HOUR, swing(heater.low - below, below / 10, 900)),
    ...every(20, 2 * HOUR + 20, 4 * HOUR, heater.atWork),
  ],
});

/** On its first day, before its turns are known, it climbs from its window to its ceiling in four minutes. */
const firstClimbTrace = (heater: Heater): Trace => {
  const ceiling = heater.high + 5;
  const climbed = (second: number) => (1.25 * Math.max(0, second - HOUR / 3)) / MINUTE;
  return {
    name: 'a first day, on which it climbs over its window',
    lab: labWith({ ...heater.station, ceiling_celsius: ceiling }),
    before: [],
    entries: every(4, 0, HOUR / 2, (second) => Math.min(ceiling, heater.middle + climbed(second))),
  };
};

/** Nobody switches it on, and others of the lab are at work. A bath or a cabinet is missed after eight days in a row. */
const forgottenTrace = (heater: Heater): Trace => ({
  name: 'a heater that nobody switches on, while another is at work',
  lab: labWith(heater.station, { others: [otherHeater(heater)] }),
  before: inTime(
    learnedDays(heater, 'p1', holdsMeltedWax(heater.station.kind) ? 3 : 9),
    learnedDays(heater, 'at-other'),
  ),
  entries: inTime(
    sampleDays(() => ROOM, FRIDAY, FRIDAY),
    sampleDays(usualFriday(heater), FRIDAY, FRIDAY, 'at-other'),
  ),
});

const usualFriday = (heater: Heater): Course => courses(...usualDay(heater, FRIDAY));
const otherHeater = ({ station }: Heater): Station => ({ ...station, id: 'other', name: 'Other heater' });

/** The traces of a heater. */
export function heaterTraces(kind: StationKind): readonly Trace[] {
  const heater = heaterOfKind(kind);
  const facts = STATION_KIND_FACTS[kind];
  const lab = labWith(heater.station);
  const before = learnedDays(heater);
  const traceOf: TraceOf = (name, course) => ({
    name,
    lab,
    before,
    entries: sampleDays(course, FRIDAY, FRIDAY),
  });
  return [
    ...Object.entries(FRIDAYS).map(([name, of]) => traceOf(name, of(heater))),
    traceOf('a contact that bounces', friday(heater, [10, bouncing(heater)], [14, heater.atWork])),
    ...(facts.comparesZones ? [unevenTrace(heater)] : []),
    ...(facts.softens ? [loadTrace(heater)] : []),
    ...(facts.holdsMeltedWax ? [chargeTrace(heater), ...lowPotTraces(heater, traceOf)] : []),
    forgottenTrace(heater),
    firstClimbTrace(heater),
    unlearnedTrace(heater, 4),
    unlearnedTrace(heater, 0.45),
  ];
}
