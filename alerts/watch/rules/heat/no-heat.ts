// A heater that should be on and does not get warm, or falls and falls in the middle of the work.

import { holdsMeltedWax, isThermostatic, type StationKind } from '../../../../lab/station-kinds.ts';
import { MILLIS_PER_HOUR } from '../../../../wax/units.ts';
import type { UsualBand } from '../../measures/heater-band.ts';
import { highestWithin, lowestWithin, reachOf, type Recent } from '../../measures/recent.ts';
import { extremesBetween, extremesOfLast, TEN_MINUTES_MILLIS } from '../../measures/ten-minutes.ts';
import type { WarmUp } from '../../measures/warm-up.ts';
import type { Holding } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { wasBroughtDown } from './brought-down.ts';
import { isClosing } from './closing.ts';
import { FEWEST_LEARNED } from './runaway.ts';

const FLAT_HOURS = 0.5;
const FALLING_MILLIS = 8 * 60_000;
/** Cold wax or an open lid pulls it down for a while; then it comes back. */
const DISTURBED_MILLIS = 8 * 60_000;
/** Baths and cabinets are switched off hours before closing. Common practice. */
export const SOFTENERS_CLOSING = 3;
/**
 * A bath or a cabinet that has been at work for so long and falls and falls was switched off, where one of the last days
 * ended so: on the first of them nobody knows, and people are called. Common practice.
 */
const SOFTENERS_AT_WORK_MILLIS = 3 * 3_600_000;
const LONGEST_DAY_MILLIS = 14 * 3_600_000;
const SHORT_DAY_KNOWN_MILLIS = 14 * 24 * 3_600_000;
const isKnownToEndEarly = ({ at, fellEarlyAt }: StationInput): boolean =>
  at - fellEarlyAt > LONGEST_DAY_MILLIS && at - fellEarlyAt < SHORT_DAY_KNOWN_MILLIS;
export function isSwitchedOffSoftener(input: StationInput): boolean {
  const { activity, at, station, warmUp } = input;
  if (holdsMeltedWax(station.kind) || activity?.kind !== 'hot' || !isKnownToEndEarly(input)) return false;
  // Off over lunch is part of the same day's work.
  const first = warmUp?.startedAt ?? 0;
  const since = at - first < LONGEST_DAY_MILLIS ? Math.min(first, activity.since) : activity.since;
  return at - since > SOFTENERS_AT_WORK_MILLIS;
}
/** Kelvins that readings scatter about a fall. */
const SCATTER = 0.3;
/**
 * A pot without heat cools towards the room with a time constant of some hours at most, for its walls are thin; one at which
 * piece after piece is dipped sinks to where its heater keeps up with them, more and more slowly. Engineering estimate.
 */
const COOLING_MILLIS = 5 * 3_600_000;
const ROOM_CELSIUS = 22;
const LEAST_FALL = 0.2;
const leastFall = ({ celsius, station }: StationInput, millis: number): number =>
  holdsMeltedWax(station.kind) ? ((celsius - ROOM_CELSIUS) * millis) / COOLING_MILLIS : LEAST_FALL;
/** Wax that was molten at work and has not been for so long is without heat, however flat it lies while it freezes. */
const FREEZING = { leastMillis: 20 * 60_000, mostMillis: 6 * 3_600_000 };
/** Cold wax takes so long to melt; and who comes back from lunch may switch on late. Common practice. */
const MELTING_MILLIS = 45 * 60_000;
const BACK_AT_WORK_MILLIS = 45 * 60_000;

/** Whoever finds a pot over its ceiling turns it down, now and then too far. */
const TURNED_DOWN_HOURS = 2;

/**
 * Without heat it cools at its full pace while its wax is molten, so that half an hour before it froze it was at work, or far
 * above; what sank slowly to there is worked at as hard as its heater can.
 */
function sankSlowly(input: StationInput, meltedAbove: number): boolean {
  const { at, band, history, moltenAt } = input;
  const usualLow = band?.usual?.low ?? Number.POSITIVE_INFINITY;
  const hours = Math.round((at - moltenAt) / TEN_MINUTES_MILLIS) * (TEN_MINUTES_MILLIS / MILLIS_PER_HOUR);
  const before = extremesBetween(history, hours + FLAT_HOURS, hours);
  const least = Math.min(usualLow, meltedAbove + leastFall(input, FLAT_HOURS * MILLIS_PER_HOUR));
  return before !== null && before.high < least;
}

function isFreezing(input: StationInput): boolean {
  const { at, celsius, disturbedAt, history, hours, limits, moltenAt, wax } = input;
  const since = at - moltenAt;
  if (wax === null || since < FREEZING.leastMillis || since > FREEZING.mostMillis) return false;
  if (at - disturbedAt < MELTING_MILLIS || at - (hours.from ?? 0) < BACK_AT_WORK_MILLIS) return false;
  const highest = extremesOfLast(history, TURNED_DOWN_HOURS)?.high ?? celsius;
  if (limits.ceiling !== null && highest > limits.ceiling.value) return false;
  if (sankSlowly(input, wax.melting.high.value)) return false;
  const lately = extremesOfLast(history, FLAT_HOURS);
  return celsius < wax.melting.high.value && lately !== null && celsius <= lately.low + SCATTER;
}

/** A bath or a cabinet is warmed up when somebody needs it; only after so many days in a row is it needed each day. */
const SOFTENERS_DAYS_IN_ROW = 8;
const isUsedDaily = ({ inRow = 0 }: WarmUp, kind: StationKind): boolean =>
  holdsMeltedWax(kind) || inRow >= SOFTENERS_DAYS_IN_ROW;
/** After one day alone its hour is as uncertain as that of today, and their difference √2 times. */
const lateFrom = ({ startDays }: WarmUp, lateMinutes: number): number =>
  startDays === 1 ? Math.SQRT2 * lateMinutes : lateMinutes;
/** Later it is no warm-up that is late, but a day without it. */
const LATE_SHOWN_MINUTES = 180;

/**
 * Cold water and a door make it fall at once, and then it comes back; a bath or a cabinet that falls as fast in the second half of
 * the time as in the first has no heat. Cold wax goes into a pot piece by piece.
 */
const EVEN_FALL_SHARE = 0.6;
function fallsEvenly(recent: Recent, at: number, celsius: number): boolean {
  const highest = highestWithin(recent, at, FALLING_MILLIS);
  const fallen = highestWithin(recent, at, FALLING_MILLIS / 2) - celsius;
  return fallen > (EVEN_FALL_SHARE / (1 + EVEN_FALL_SHARE)) * (highest - celsius);
}

/** Below this it is further under its usual band than work takes it, °C. */
export const fallingEdge = ({ bottom, high, low }: UsualBand): number =>
  Math.min(bottom - 1, low - Math.max(2, 0.6 * (high - low)));

/** A bath or a cabinet whose usual band is not known: so far below its window no thermostat turns. Engineering estimate. */
const BELOW_WINDOW = 2;

/** What falls and falls from here on is without heat, °C; infinitely low where that is not known. */
function fallsFrom({ band, limits, station }: Pick<StationInput, 'band' | 'limits' | 'station'>): number {
  const usual = band?.usual ?? null;
  if (usual !== null && usual.learned >= FEWEST_LEARNED) return fallingEdge(usual);
  return holdsMeltedWax(station.kind) || limits.windowLow === null
    ? Number.NEGATIVE_INFINITY
    : limits.windowLow.value - BELOW_WINDOW;
}

const holding = ({ celsius, limits }: StationInput, minutes: number): Holding => ({
  evidence: {
    value_celsius: celsius,
    low_celsius: limits.windowLow?.value ?? celsius,
    flat_minutes: minutes,
  },
});

export const noHeat = stationRule({
  kind: 'no-heat',
  priority: 'medium',
  extremes: ['lowest'],
  looksAround: true,
  formula:
    'open, and one of (not while it falls from above its ceiling and has not turned up since, but for the first; the last three not within the time in which heaters are switched off before closing, a quarter of it before a pause): cold, later than its usual first warm-up + late (after one day √2 · late; softeners: after 8 days in a row); T < window low − margin, highest − lowest over 30 min < movement, not melting; pot: molten 20 min to 6 h ago, below the high end of its melting range since and at its lowest of 30 min, and in the 30 min before that in its usual band or above that end by (T − 22 °C) / 10; T < usual low − max(2 K, 0.6 · band) (softeners: or window low − 2 K while no band is known) and falling for 8 min, the last 4 of them by 0.2 K (pot: by (T − 22 °C) / 5 h) at least, 8 min after work (softeners: or as fast in their second half as in the first; not 3 h after they were warmed up, where people were called so in the last 14 days)',
  parameters: {
    margin_celsius_difference: parameter('celsius_difference', 5, [1, 60]),
    movement_celsius_difference: parameter('celsius_difference', 1.5, [0.2, 10]),
    late_minutes: parameter('minutes', 20, [5, 240]),
    closing_minutes: parameter('minutes', 60, [0, 240]),
    on_delay_seconds: onDelay(300),
    off_delay_seconds: offDelay(900),
  },
  hiddenBehind: ['probe-out'],
  appliesTo: (station, limits) => isThermostatic(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, at, hours, limits } = input;
    if (limits.windowLow === null || activity === null) return 'unknown';
    if (!hours.open || input.plannedOff) return 'gone';
    if (activity.kind === 'cold') {
      const { plannedOnAt, warmUp } = input;
      const isAsked = plannedOnAt !== null && at - plannedOnAt > FLAT_HOURS * 3_600_000;
      const lateBy = input.minuteOfDay() - (warmUp?.startMinute ?? 0);
      const isUsual =
        warmUp !== null && isUsedDaily(warmUp, input.station.kind) && at - warmUp.startedAt > 10 * 3_600_000;
      // Nothing is on in the whole lab: a day off that nobody entered.
      const isLate =
        isUsual &&
        lateBy > lateFrom(warmUp, p.late_minutes) &&
        lateBy < p.late_minutes + LATE_SHOWN_MINUTES &&
        input.othersAtWork() !== false;
      return isAsked || isLate ? holding(input, isLate ? lateBy : FLAT_HOURS * 60) : 'gone';
    }
    const { celsius } = input;
    if (celsius >= limits.windowLow.value || wasBroughtDown(input)) return 'gone';
    const { disturbedAt, recent, station, wax } = input;
    const closing =
      60_000 * (holdsMeltedWax(station.kind) ? p.closing_minutes : SOFTENERS_CLOSING * p.closing_minutes);
    const mayBeOff = isClosing(input, closing);
    if (recent !== null && activity.kind === 'hot') {
      const isFalling =
        reachOf(recent, at) >= FALLING_MILLIS &&
        celsius <= lowestWithin(recent, at, FALLING_MILLIS) + SCATTER &&
        highestWithin(recent, at, FALLING_MILLIS / 2) - celsius > leastFall(input, FALLING_MILLIS / 2);
      const isWatched = !mayBeOff && !isSwitchedOffSoftener(input);
      const isUndisturbed =
        at - disturbedAt > DISTURBED_MILLIS ||
        (!holdsMeltedWax(station.kind) && fallsEvenly(recent, at, celsius));
      if (celsius < fallsFrom(input) && isFalling && isWatched && isUndisturbed)
        return holding(input, FALLING_MILLIS / 60_000);
    }
    if (!mayBeOff && holdsMeltedWax(station.kind) && activity.kind === 'hot' && isFreezing(input))
      return holding(input, (at - input.moltenAt) / 60_000);
    if (mayBeOff || celsius >= limits.windowLow.value - p.margin_celsius_difference) return 'gone';
    // Melting takes heat without getting warmer.
    if (wax !== null && celsius > wax.melting.low.value - 2 && celsius < wax.melting.high.value + 2)
      return 'gone';
    const { history } = input;
    const lately = extremesOfLast(history, FLAT_HOURS);
    const first = history.closed[0];
    if (lately === null || first === undefined || at - first.at < FLAT_HOURS * 3_600_000) return 'unknown';
    if (lately.high - lately.low >= p.movement_celsius_difference) return 'gone';
    return holding(input, FLAT_HOURS * 60);
  },
  staysQuiet: (input, p, bounds) => {
    const { activity, at, hours, limits, plannedOnAt, warmUp } = input;
    if (limits.windowLow === null || activity === null || !hours.open || input.plannedOff) return true;
    if (activity.kind === 'cold') {
      if (plannedOnAt !== null && !bounds.until(plannedOnAt + FLAT_HOURS * 3_600_000)) return false;
      if (warmUp === null || !isUsedDaily(warmUp, input.station.kind)) return true;
      const lateBy = input.minuteOfDay() - warmUp.startMinute;
      // Then the other heaters decide; how late it is changes from minute to minute.
      if (lateBy > lateFrom(warmUp, p.late_minutes) && lateBy < p.late_minutes + LATE_SHOWN_MINUTES)
        return false;
      return bounds.until((Math.floor(at / 60_000) + 1) * 60_000);
    }
    const flatBelow = limits.windowLow.value - p.margin_celsius_difference;
    const fallBelow = activity.kind === 'hot' ? fallsFrom(input) : flatBelow;
    const freezesBelow = input.wax === null ? flatBelow : input.wax.melting.high.value;
    return bounds.above(Math.min(limits.windowLow.value, Math.max(flatBelow, fallBelow, freezesBelow)));
  },
});
