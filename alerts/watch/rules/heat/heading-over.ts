// Above its working window, still rising, and the fitted curve meets the ceiling soon: minutes to act in.

import { holdsMeltedWax, isThermostatic } from '../../../../lab/station-kinds.ts';
import { MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import { guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { climbLimit, climbOf, isArriving, leastClimbLimit } from './runaway.ts';

/** Kelvins above the usual top below which a cycle is no climb. */
const LEAST_MARGIN = 0.7;

/** Minutes are shown whole; a near end that reads like the middle is left out. */
const readsSooner = (earliestMinutes: number, leftMinutes: number): boolean =>
  Math.round(earliestMinutes) < Math.round(leftMinutes);

/** While it is not known where a heater turns, only a ceiling this much nearer is announced. */
const NEW_SHARE = 0.4;
/** So soon after a warm-up that was seen it is not known how far it overshoots. */
const ARRIVED_SHARE = 0.15;
/** The air of a cabinet, or some litres of water, rises by kelvins a minute and turns as fast. */
const ARRIVED_SOFTENER_SHARE = 0.04;
function newShare(input: StationInput): number {
  if (!isArriving(input)) return NEW_SHARE;
  return holdsMeltedWax(input.station.kind) ? ARRIVED_SHARE : ARRIVED_SOFTENER_SHARE;
}

/** A window that reaches up to the ceiling leaves this much for a forecast, kelvins. */
const BELOW_CEILING = 3;
const forecastFrom = (windowHigh: number, guard: number, ceiling: number): number =>
  Math.min(windowHigh + guard, ceiling - BELOW_CEILING);

const LAST_MILLIS = 75_000;
/** Minutes to the ceiling at the pace of the last minute; null where it is not known, infinite where it did not rise. */
function minutesAtLastPace({ at, celsius, limits, recent }: StationInput): number | null {
  const index = recent?.at.findLastIndex((earlier) => at - earlier >= LAST_MILLIS / 2) ?? -1;
  const elapsed = at - (recent?.at[index] ?? Number.NEGATIVE_INFINITY);
  if (limits.ceiling === null || elapsed > 2 * LAST_MILLIS) return null;
  const risen = celsius - (recent?.celsius[index] ?? celsius);
  return risen <= 0
    ? Number.POSITIVE_INFINITY
    : ((limits.ceiling.value - celsius) * elapsed) / risen / MILLIS_PER_MINUTE;
}

/** Where it turned last of its own accord it may turn again, °C; well below the ceiling, or it was made to. */
const TURN_MARGIN = 1;
const TURNED_BELOW_CEILING = 2;
function lastTurn({ band, limits }: StationInput): number {
  const turned = band?.peak ?? 0;
  return turned < (limits.ceiling?.value ?? 0) - TURNED_BELOW_CEILING ? turned + TURN_MARGIN : 0;
}

export const headingOver = stationRule({
  kind: 'heading-over',
  priority: 'high',
  extremes: ['highest'],
  fewestSamples: 2,
  formula:
    'T > window high + r·U (at most ceiling − 3 K) and past what is usual, or a runaway, dT/dt > 0, and t(ceiling) of the first-order curve ≤ horizon; past its last turn and ≤ 0.4 · horizon (within 15 min of a warm-up 0.15, softeners 0.04), by the rise of the last minute too, while what is usual is not known',
  parameters: {
    horizon_minutes: parameter('minutes', 15, [2, 120]),
    guard_share: guardBand(1),
    on_delay_seconds: onDelay(10, 'forecast-of-several-readings'),
    off_delay_seconds: offDelay(120),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) =>
    isThermostatic(station.kind) && limits.ceiling !== null && limits.windowHigh !== null,
  evaluate: (input, p) => {
    const { limits, celsius, uncertainty, celsiusPerHour, minutesToCeiling, earliestToCeiling } = input;
    const { ceiling, windowHigh } = limits;
    if (ceiling === null || windowHigh === null) return 'unknown';
    if (celsius >= ceiling.value) return 'gone';
    // Within its window only what would ring as a runaway counts, so that this rings in its place.
    const isWithin = celsius <= forecastFrom(windowHigh.value, p.guard_share * uncertainty, ceiling.value);
    const climb = climbOf(input, LEAST_MARGIN);
    const isClimb = climb === 'climbs';
    // It ends with the climb, or the runaway behind it would ring in its turn.
    const over = climb === 'gone' || climb === 'unknown' ? 'gone' : 'between';
    if (isWithin && !isClimb) return over;
    const usualLimit = climbLimit(input, LEAST_MARGIN);
    if (celsius <= (usualLimit ?? Math.max(lastTurn(input), leastClimbLimit(input, LEAST_MARGIN) ?? 0)))
      return over;
    if (minutesToCeiling === null || celsiusPerHour === null || celsiusPerHour <= 0) return over;
    const horizon = usualLimit === null ? newShare(input) * p.horizon_minutes : p.horizon_minutes;
    const atLastPace = minutesAtLastPace(input);
    // After a warm-up it slows down where it turns.
    if (usualLimit === null && (atLastPace ?? 0) > horizon) return 'between';
    // The fitted curve follows the beginning of a climb late.
    const left = isClimb ? Math.min(minutesToCeiling, atLastPace ?? minutesToCeiling) : minutesToCeiling;
    if (left > horizon) return left > 1.5 * horizon ? over : 'between';
    return {
      evidence: {
        value_celsius: celsius,
        ceiling_celsius: ceiling.value,
        left_minutes: left,
        ...(earliestToCeiling !== null &&
          readsSooner(earliestToCeiling, left) && { timing: 'band', earliest_minutes: earliestToCeiling }),
        rate_celsius_per_hour: celsiusPerHour,
      },
      worst: -left,
    };
  },
  updateStep: 2,
  staysQuiet: (input, p, bounds) => {
    const { ceiling, windowHigh } = input.limits;
    if (ceiling === null || windowHigh === null) return true;
    const least = leastClimbLimit(input, LEAST_MARGIN);
    return bounds.below(
      least ?? forecastFrom(windowHigh.value, p.guard_share * input.uncertainty, ceiling.value),
    );
  },
});
