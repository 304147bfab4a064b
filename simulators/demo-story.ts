// The demonstration's story. It must show at whatever hour someone starts it, and yet nothing may be pretended: so the
// demonstration's lab lies in a time zone in which the working day has just begun, and opens a quarter of an
// hour before. Clock, night, weekend and sun then agree with one another, and rules about hours behave as anywhere.

import { Temporal } from 'temporal-polyfill';
import type { Fault } from './faults/fault.ts';
import type { SwitchedOn } from './lab/routine.ts';
import { DAY_NAMES, type DayName, dayOf, type Hours, type SimulatedSite } from './lab/site-hours.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const FIRST_HOUR = 7;

/** Whole-hour zone in which it is 7 o'clock and some minutes at the instant; the sign of these names is reversed. */
const morningZone = (now: number): string => {
  const utcHour = Math.floor(now / HOUR) % 24;
  let offset = FIRST_HOUR - utcHour;
  if (offset < -12) offset += 24;
  return offset === 0 ? 'Etc/GMT' : `Etc/GMT${offset > 0 ? '-' : '+'}${Math.abs(offset)}`;
};

/**
 * The site with the clock of the demonstration: zone as given, the day's first opening 15 minutes before `now` and a
 * week turned so that today is worked and two days in a row are free.
 */
export const demoSite = <S extends SimulatedSite>(site: S, now: number): S => {
  const timeZone = morningZone(now);
  const local = Temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(timeZone);
  const opens = local
    .subtract({ minutes: 15 + (local.minute % 5) })
    .toPlainTime()
    .toString({ smallestUnit: 'minute' });
  const isWeekend = local.dayOfWeek > 5;
  const hoursOf = (index: number): Hours[DayName] => {
    const turned = DAY_NAMES[(index + (isWeekend ? 5 : 0)) % 7] ?? 'mon';
    return site.workingHours[turned].map(([from, to], span) => (span === 0 ? [opens, to] : [from, to]));
  };
  const workingHours = Object.fromEntries(DAY_NAMES.map((name, index) => [name, hoursOf(index)]));
  return { ...site, timeZone, workingHours, holidays: [] };
};

/** So long the dip pot warms from the room to its ceiling of 100 °C when its contact is welded. */
const DIP_POT_TO_CEILING = 1_530_000;
/** From the making of the simulation to the ceiling; the past takes some seconds of it to arrive. */
const CEILING_AFTER = 175_000;
const dipPotOn = (created: number): number => created + CEILING_AFTER - DIP_POT_TO_CEILING;

/** Who was early: the dip pot is warming up when the story begins; the other heaters are switched on as it begins. */
export const storySwitchedOn = (created: number): SwitchedOn => ({
  'dip-pot': dipPotOn(created),
  'melt-pot-crowns': created + 15_000,
  'melt-pot-plates': created + 20_000,
  annealer: created + 30_000,
  'water-bath': created + 40_000,
});

/** This morning the dip pot's contact is welded: it will warm through its window and over its ceiling. */
const weldedContact = (created: number): Fault => ({
  kind: 'thermostat-stuck-on',
  station: 'dip-pot',
  from: dipPotOn(created),
  to: created + 8 * MINUTE,
});

/** The last seven days: a pot held too hot, one left on, a window open at night, a gateway away for 20 minutes. */
export const pastFaults = (site: SimulatedSite, now: number): readonly Fault[] => {
  const worked = [1, 2, 3, 4, 5, 6]
    .map((back) => dayOf(site, now - back * DAY))
    .flatMap((day) => (day.work === null ? [] : [{ ...day, work: day.work }]));
  const [last, second, third] = worked;
  const faults: Fault[] = [
    weldedContact(now),
    {
      kind: 'set-point-shifted',
      station: 'melt-pot-crowns',
      celsius: 6,
      from: now - 9 * DAY,
      to: now + 9 * DAY,
    },
  ];
  if (last) {
    const noon = (last.work.opens + last.work.closes) / 2;
    faults.push({ kind: 'gateway-dead', gateway: 'gw-bench', from: noon, to: noon + 20 * MINUTE });
  }
  if (second)
    faults.push({ kind: 'window-open', from: second.work.closes + 10 * MINUTE, to: second.end + 5.5 * HOUR });
  if (third) {
    const to = third.work.closes + 4.6 * HOUR;
    faults.push({ kind: 'left-on', station: 'melt-pot-plates', from: third.work.closes - HOUR, to });
  }
  return faults;
};

/**
 * Live: near two and a half minutes the dip pot passes its ceiling; at five and a half someone takes it off the mains
 * and mends it; then an ordinary day goes on.
 */
export const storyFaults = (begins: number): readonly Fault[] => [
  { kind: 'switched-off', station: 'dip-pot', from: begins + 5.5 * MINUTE, to: begins + 13 * MINUTE },
];
