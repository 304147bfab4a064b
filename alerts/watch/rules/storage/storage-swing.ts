// A place where patterns wait swung too far within a day.

import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import { STATION_KIND_FACTS, stores } from '../../../../lab/station-kinds.ts';
import {
  type Extremes,
  extremesBetween,
  extremesOfLast,
  type History,
  hoursOfHistory,
  meanExtremesOfLast,
  meanOf,
} from '../../measures/ten-minutes.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';
import { isFirstMorning } from './first-morning.ts';

const HORIZON_HOURS = 0.5;
/** Further from the limit, so far ahead, and only above all that it was in the day before. */
const SOON_HOURS = 0.25;
const LATELY_HOURS = 0.75;
/** Kelvins below all of an hour that it fell by lately when it was aired: it overshoots as it is heated up again. */
const AIRED_KELVINS = 0.5;
function wasAired(history: History): boolean {
  const lately = extremesOfLast(history, LATELY_HOURS);
  const before = extremesBetween(history, LATELY_HOURS + 1, LATELY_HOURS);
  return lately !== null && before !== null && lately.low < before.low - AIRED_KELVINS;
}
/** A forecast that ends so near the limit is as good as one beyond it. */
const EDGE_KELVINS = 0.15;

/** The present value counts while it is within this of the furthest of the last minutes: a door that was closed again comes back. */
const FURTHEST = { kelvins: 0.3, hours: 1 / 6 };

/** By ten-minute means, as what lies there follows its air by some minutes; and the present value where it stays or goes on. */
function reachOf(history: History, celsius: number, hours: number): Extremes | null {
  const means = meanExtremesOfLast(history, hours);
  const lately = extremesOfLast(history, FURTHEST.hours);
  if (means === null || lately === null) return null;
  return {
    low: celsius <= lately.low + FURTHEST.kelvins ? Math.min(means.low, celsius) : means.low,
    high: celsius >= lately.high - FURTHEST.kelvins ? Math.max(means.high, celsius) : means.high,
  };
}

/** Near the limit, at the edge of its extremes, and moving outwards. */
function isGrowing(
  { high, low }: Extremes,
  input: StationInput,
  p: {
    readonly early_share: number;
    readonly limit_celsius_difference: number;
    readonly window_hours: number;
  },
): boolean {
  const { at, celsius, celsiusPerHour, history, station } = input;
  const near = p.limit_celsius_difference - EDGE_KELVINS;
  const reaches = (rate: number, hours: number): boolean => {
    const isAtEdge = rate > 0 ? celsius >= high - 0.2 : celsius <= low + 0.2;
    const ahead = celsius + rate * hours;
    return isAtEdge && Math.max(high, ahead) - Math.min(low, ahead) > near;
  };
  if (high - low >= p.early_share * p.limit_celsius_difference)
    return reaches(celsiusPerHour ?? 0, HORIZON_HOURS);
  // A door or a window that is opened lets it fall, and it comes back; nothing but sun or a heater lets it rise so.
  if (STATION_KIND_FACTS[station.kind].hasDoor || isFirstMorning(input) || wasAired(history)) return false;
  const before = extremesBetween(history, p.window_hours, LATELY_HOURS);
  const isAbove = before !== null && celsius > before.high;
  return isAbove && reaches(sinceLastStretch(at, celsius, history), SOON_HOURS);
}

/** °C an hour since the mean of the stretch that closed last: the slope of the trend follows a sudden rise too late. */
function sinceLastStretch(at: number, celsius: number, { closed }: History): number {
  const newest = closed.at(-1);
  if (newest === undefined) return 0;
  const mean = meanOf(newest);
  return (celsius - mean.celsius) / ((at - mean.at) / MILLIS_PER_HOUR);
}

export const storageSwing = stationRule({
  kind: 'storage-swing',
  priority: 'high',
  extremes: ['highest', 'lowest'],
  formula:
    'max − min of the ten-minute means of T over the last hours, and of T while it stays, > limit, or > early share · limit and growing past the limit within half an hour, or without a door, above all of the day before and so within a quarter of one by the rise since the last ten minutes (not within 45 min of a fall by 0.5 K below the hour before; while no working day is known, not from 3 h before opening to 1 h after)',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 6, [0.5, 30], 'storage-swing-length'),
    early_share: parameter('share', 0.93, [0.5, 1]),
    window_hours: parameter('hours', 24, [1, 24]),
    deadband_celsius_difference: deadband(1),
    on_delay_seconds: onDelay(300),
    off_delay_seconds: offDelay(600),
  },
  updateStep: 2,
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind),
  evaluate: (input, p) => {
    const { celsius, history } = input;
    const span = reachOf(history, celsius, p.window_hours);
    if (span === null) return 'unknown';
    const swing = span.high - span.low;
    if (swing <= p.limit_celsius_difference && !isGrowing(span, input, p))
      return swing <= p.limit_celsius_difference - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: {
        swing_celsius_difference: swing,
        low_celsius: span.low,
        high_celsius: span.high,
        window_hours: Math.min(p.window_hours, Math.max(1, hoursOfHistory(history))),
      },
      worst: swing,
    };
  },
  staysQuiet: ({ history }, p, bounds) => {
    const span = extremesOfLast(history, p.window_hours);
    const before = extremesBetween(history, p.window_hours, LATELY_HOURS);
    const least = Math.min(1, p.early_share) * p.limit_celsius_difference;
    // Above the day before a forecast counts, however far it is from the limit.
    if (before !== null && !bounds.below(before.high)) return false;
    return span !== null && bounds.above(span.high - least) && bounds.below(span.low + least);
  },
});
