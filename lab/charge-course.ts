// What a charge of wax went through since it was filled: its heat dose along the way, the day on which it will be
// spent at its usual hours, and what a cooler pot or shorter hours would have saved. Dose: wax/heat/heat-dose.ts. The
// forecast carries the habits of the last fortnight on; it is no measurement.

import { Temporal } from 'temporal-polyfill';
import {
  type DoseOptions,
  doseAfterTopUp,
  doseKinetics,
  doseStart,
  doseStep,
  ageingRatio,
} from '../wax/heat/heat-dose.ts';
import { type Celsius, type EpochMillis, epochMillis, type Fraction, MILLIS_PER_DAY } from '../wax/units.ts';
import type { WaxClass } from '../wax/wax-class.ts';
import { isOpen } from './calendar.ts';
import type { Charge } from './charge.ts';
import { type Site, WEEKDAYS } from './lab.ts';

interface MeanCelsius {
  readonly at: EpochMillis;
  readonly celsius: number;
}

export interface ChargeCourse {
  /** Oldest first; equivalent hours. */
  readonly curve: readonly { readonly at: EpochMillis; readonly hours: number }[];
  /** When the allowance is used up at the usual hours; null: not within a year, or less than a day is known. */
  readonly spentAt: EpochMillis | null;
  /** Share of each hot hour's dose that a pot cooler by so much saves, still within its window; null: no room. */
  readonly cooler: { readonly celsius: number; readonly share: number } | null;
  /** Share of the last week's dose that fell outside working hours; null: no dose. */
  readonly outsideHours: number | null;
}

export interface ChargeCourseInput {
  readonly charge: Charge;
  /** Means of equal spans, oldest first. */
  readonly means: readonly MeanCelsius[];
  readonly spanSeconds: number;
  readonly wax: WaxClass;
  readonly windowLow: number | null;
  readonly site: Site;
  readonly now: EpochMillis;
}

const HABIT_DAYS = 14;
const MOST_DAYS = 365;
/** A pot's thermostat is set in steps of about this. Common practice. */
const STEP_CELSIUS = 5;
/** As the running dose has it: a longer pause is one of which nothing is known. */
const LEAST_GAP_SECONDS = 300;

interface Gain {
  readonly at: EpochMillis;
  readonly hours: number;
  readonly celsius: number;
}

const walk = ({ charge, means, spanSeconds, wax }: ChargeCourseInput) => {
  const options: DoseOptions = {
    kinetics: doseKinetics(wax),
    longestGap: Math.max(LEAST_GAP_SECONDS, 2.5 * spanSeconds) as DoseOptions['longestGap'],
    hotAbove: wax.melting.low.value as Celsius,
  };
  // One that was sent later comes after those that were done after it.
  const topUps = charge.topUps
    .map(({ at, fraction }) => ({ at: Date.parse(at), fraction }))
    .sort((first, second) => first.at - second.at);
  let dose = doseStart();
  let next = 0;
  const curve: { at: EpochMillis; hours: number }[] = [];
  const gains: Gain[] = [];
  for (const { at, celsius } of means) {
    for (let topUp = topUps[next]; topUp !== undefined && topUp.at <= at; topUp = topUps[next]) {
      dose = doseAfterTopUp(dose, topUp.fraction as Fraction);
      next += 1;
    }
    const before = dose.hours;
    dose = doseStep(dose, at, celsius as Celsius, options);
    gains.push({ at, hours: dose.hours - before, celsius });
    curve.push({ at, hours: dose.hours });
  }
  return { curve, gains, hours: dose.hours, kinetics: options.kinetics };
};

const dayOf = (at: EpochMillis, zone: string): Temporal.PlainDate =>
  Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDate();

const isWorkday = (site: Site, day: Temporal.PlainDate): boolean => {
  const weekday = WEEKDAYS[day.dayOfWeek - 1];
  return weekday !== undefined && site.workingHours[weekday].length > 0 && !site.holidays.includes(`${day}`);
};

const spentAt = (input: ChargeCourseInput, hours: number, gains: readonly Gain[]): EpochMillis | null => {
  const { site, now, wax } = input;
  const from = now - HABIT_DAYS * MILLIS_PER_DAY;
  const recent = gains.filter(({ at }) => at >= from);
  const [first] = recent;
  if (first === undefined || now - first.at < MILLIS_PER_DAY) return null;
  const days = { work: 0, rest: 0 };
  const gained = { work: 0, rest: 0 };
  const today = dayOf(now, site.timeZone);
  // Only whole days show what is usual.
  for (
    let day = dayOf(first.at, site.timeZone).add({ days: 1 });
    Temporal.PlainDate.compare(day, today) < 0;
    day = day.add({ days: 1 })
  )
    days[isWorkday(site, day) ? 'work' : 'rest'] += 1;
  let gainedToday = 0;
  const firstDay = dayOf(first.at, site.timeZone);
  for (const { at, hours: gain } of recent) {
    const day = dayOf(at, site.timeZone);
    if (day.equals(today)) gainedToday += gain;
    else if (!day.equals(firstDay)) gained[isWorkday(site, day) ? 'work' : 'rest'] += gain;
  }
  const usual = (day: Temporal.PlainDate): number => {
    const kind = isWorkday(site, day) ? 'work' : 'rest';
    return days[kind] === 0 ? 0 : gained[kind] / days[kind];
  };
  let sum = hours + Math.max(0, usual(today) - gainedToday);
  for (let ahead = 0; ahead <= MOST_DAYS; ahead += 1) {
    const day = today.add({ days: ahead });
    if (ahead > 0) sum += usual(day);
    if (sum >= wax.doseAllowance.value)
      return epochMillis(
        day.toZonedDateTime({ timeZone: site.timeZone, plainTime: '12:00' }).epochMilliseconds,
      );
  }
  return null;
};

export function chargeCourse(input: ChargeCourseInput): ChargeCourse {
  const { curve, gains, hours, kinetics } = walk(input);
  const hot = gains.filter((gain) => gain.hours > 0);
  const dose = hot.reduce((sum, gain) => sum + gain.hours, 0);
  const mean = dose === 0 ? null : hot.reduce((sum, gain) => sum + gain.celsius * gain.hours, 0) / dose;
  const room =
    mean === null || input.windowLow === null
      ? 0
      : Math.min(STEP_CELSIUS, Math.floor(mean - input.windowLow));
  const week = hot.filter(({ at }) => at >= input.now - 7 * MILLIS_PER_DAY);
  const ofWeek = week.reduce((sum, gain) => sum + gain.hours, 0);
  const outside = week.filter(({ at }) => !isOpen(input.site, at)).reduce((sum, gain) => sum + gain.hours, 0);
  return {
    curve,
    spentAt: spentAt(input, hours, gains),
    cooler:
      mean === null || room < 1
        ? null
        : {
            celsius: room,
            share:
              1 - ageingRatio((mean - room) as Celsius, kinetics) / ageingRatio(mean as Celsius, kinetics),
          },
    outsideHours: ofWeek === 0 ? null : outside / ofWeek,
  };
}
