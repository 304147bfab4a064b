// The temperature leaves the band that the thermostat kept for days, upwards, and goes on rising.

import { holdsMeltedWax, isThermostatic, STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { StationLimits } from '../../../../lab/limits.ts';
import type { HeaterBand, UsualBand } from '../../measures/heater-band.ts';
import { mayBePouredInto } from '../../measures/leap.ts';
import { hasEasedOff } from '../../measures/recent.ts';
import type { Evaluation, Holding } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** Cycles, or ten minutes of steady control, before the band means anything. */
export const FEWEST_LEARNED = 6;
/** After a warm-up the temperature may overshoot for so long. */
const OVERSHOOT_MILLIS = 30 * 60_000;
/** Part of the band that the thermostat keeps is its own scatter. */
const SCATTER_SHARE = 0.1;
const SPREADS = 3;
/** After a door, a load or a ladle it may swing wider for so long. */
const DISTURBED_MILLIS = 15 * 60_000;
/**
 * Kelvins below its usual band from which it overshoots as after a warm-up; from less it does by as much less, because the
 * heater was on for as much less. Engineering estimate.
 */
const DEEP_DIP = 12;
/** Not each door of a cabinet shows in its temperature; after one its air may swing wider by this. */
const DOOR_CELSIUS = 2.5;
/** What pulled it below its band makes the thermostat heat for longer: it swings as far beyond its top, up to this. */
const MOST_SWING_BACK = 0.5;
/** What let it turn up higher than usual, a lid or more wax, lets it turn down as much higher, up to this. */
const MOST_LIFTED = 2;
const liftOf = ({ going, valley, valleyAt, usual }: HeaterBand): number =>
  going === 1 && valleyAt > 0 && usual !== null ? clamp(valley - usual.low, MOST_LIFTED) : 0;
const clamp = (value: number, most: number): number => Math.min(most, Math.max(0, value));
const swingBack = ({ going, valley, valleyAt, usual }: HeaterBand): number =>
  going === 1 && valleyAt > 0 ? clamp((usual?.low ?? 0) - valley, MOST_SWING_BACK) : 0;
/** So near the ceiling nothing but a runaway still rises so fast. */
const URGENT_MINUTES = 4;
const URGENT_SHARE = 0.4;
const isNearCeiling = ({ minutesToCeiling }: StationInput): boolean =>
  minutesToCeiling !== null && minutesToCeiling <= URGENT_MINUTES;
/** But a warm-up may go as far as it usually does, up to this share of the way to the ceiling. */
const WARM_UP_SHARE = 0.5;

/** Where its top lies near the ceiling a climb is announced in the first part of the way there, whatever it scatters. */
const CEILING_SHARE = 0.4;
/** A rise so much slower than the usual one is no heater at full power: its contact bounces, and it still turns. */
const SLOW_SHARE = 0.6;
/** Of the usual band; a bouncing contact turns so far from where it should. */
const SLOW_EXTRA = 0.5;

/** Both since it turned up and of late. */
function isSlowRise({ at, band, celsius, celsiusPerHour }: StationInput, usual: UsualBand): boolean {
  if (band === null || band.going !== 1 || band.valleyAt === 0 || usual.riseSeconds === 0) return false;
  const slow = (SLOW_SHARE * (usual.high - usual.low)) / usual.riseSeconds;
  const risenSeconds = (at - band.valleyAt) / 1000;
  return celsius - band.valley < slow * risenSeconds && (celsiusPerHour ?? 0) < 3600 * slow;
}

/** So soon after a warm-up that was seen it is not known how far it overshoots. */
const ARRIVED_MILLIS = 15 * 60_000;
export const isArriving = ({ activity, at, warmUp }: StationInput): boolean =>
  warmUp !== null && activity?.kind === 'hot' && at - activity.since < ARRIVED_MILLIS;
/** Air and water are filled in at other temperatures each day; after so many warm-ups it is known how far they overshoot. */
const FEWEST_WARM_UPS = 3;
const isNewSoftener = (input: StationInput): boolean =>
  !holdsMeltedWax(input.station.kind) && isArriving(input) && (input.warmUp?.learned ?? 0) < FEWEST_WARM_UPS;

/** Kelvins above the usual top from which it is no cycle any more. */
const marginOf = ({ high, learned, low, spread }: UsualBand, least: number): number =>
  Math.max(least, SCATTER_SHARE * (high - low), SPREADS * spread) * (1 + 3 / learned);

/**
 * The temperature up to which a heater at work may rise by what is usual for it, °C; null while that is not known.
 * After a warm-up, a door or a ladle it may overshoot; what its probe leapt by is no rise.
 */
export function climbLimit(input: StationInput, leastMargin: number): number | null {
  const { activity, at, band, disturbedAt, lift, limits, overshoot, station } = input;
  const usual = band?.usual ?? null;
  if (usual === null || usual.learned < FEWEST_LEARNED || isNewSoftener(input)) return null;
  const sinceHot = activity?.kind === 'hot' ? at - activity.since : 0;
  const isWarmingUp = sinceHot < OVERSHOOT_MILLIS;
  const isUnsettled = isWarmingUp || at - disturbedAt < DISTURBED_MILLIS;
  const isUrgent = isNearCeiling(input);
  const dip = band === null ? 0 : Math.max(0, usual.low - band.valley);
  const recovery = isWarmingUp ? 1 : Math.min(1, dip / DEEP_DIP);
  const beyond = isUnsettled ? 1.3 * overshoot * recovery + 0.7 : 0;
  const before = isWarmingUp ? Math.min(overshoot + 0.3, WARM_UP_SHARE * leftOf(usual, limits)) : 0;
  const unsettled = isUrgent ? Math.max(before, URGENT_SHARE * beyond) : beyond;
  const swing = band === null || isUrgent ? 0 : swingBack(band);
  const isOver = input.celsius > usual.high && !isUrgent;
  const slow = isOver && isSlowRise(input, usual) ? SLOW_EXTRA * (usual.high - usual.low) : 0;
  const allowed =
    Math.max(unsettled, swing, slow) + (STATION_KIND_FACTS[station.kind].hasDoor ? DOOR_CELSIUS : 0);
  return undisturbedLimit(usual, limits, leastMargin) + allowed + lift;
}

/** Kelvins from its usual top to the ceiling. */
const leftOf = (usual: UsualBand, { ceiling }: StationLimits): number =>
  (ceiling?.value ?? Number.POSITIVE_INFINITY) - usual.top;

function undisturbedLimit(usual: UsualBand, limits: StationLimits, leastMargin: number): number {
  const left = leftOf(usual, limits);
  const margin = Math.max(leastMargin, Math.min(marginOf(usual, leastMargin), CEILING_SHARE * left));
  return Math.max(usual.high + margin, usual.top + 0.5 * leastMargin);
}

/** The least that `climbLimit` can be with this usual band, °C; null while that is not known. */
export function leastClimbLimit(
  { band, limits }: Pick<StationInput, 'band' | 'limits'>,
  leastMargin: number,
): number | null {
  const usual = band?.usual ?? null;
  return usual === null || usual.learned < FEWEST_LEARNED
    ? null
    : undisturbedLimit(usual, limits, leastMargin);
}

/**
 * A pot that will pass its ceiling nears it at the rest of its way over its time constant, hours at most; one that creeps to
 * its set point, as it does in proportional control after cold wax, does not. Engineering estimate.
 */
const POT_FORESEEN_MINUTES = 120;
/**
 * People turn a knob up by some kelvins, or put a lid on: so little above its usual tops, and so long before the ceiling at
 * its present pace, that is waited for. Common practice.
 */
const TURNED_UP = 2.5;
const TURNED_UP_MINUTES = 20;
/**
 * A lid over a bath at rest lets it rise by some kelvins, and a door or cold water makes its heater swing beyond its window
 * for minutes; one that stays on crosses its window, and nears its ceiling, at its full pace.
 */
const FORESEEN_MINUTES = 10;
function isFarFromHarm(
  { at, band, celsius, disturbedAt, limits, station }: StationInput,
  celsiusPerHour: number,
): boolean {
  const isBelow = (edge: number, minutes: number): boolean =>
    celsius + (celsiusPerHour * minutes) / 60 < edge;
  if (holdsMeltedWax(station.kind)) {
    const mayBeTurnedUp = celsius <= (band?.usual?.top ?? celsius) + TURNED_UP;
    const minutes = mayBeTurnedUp ? TURNED_UP_MINUTES : POT_FORESEEN_MINUTES;
    return limits.ceiling !== null && isBelow(limits.ceiling.value, minutes);
  }
  if (limits.windowHigh === null) return false;
  const wasDisturbed = at - disturbedAt < DISTURBED_MILLIS;
  const edge = wasDisturbed ? (limits.ceiling ?? limits.windowHigh) : limits.windowHigh;
  return isBelow(edge.value, FORESEEN_MINUTES);
}

/**
 * A pot or a bath that hot wax or water brought over its usual top cools again within minutes, and eases off before it does;
 * a heater that stays on climbs evenly. Near its ceiling nobody waits for that.
 */
function isPouredInto(input: StationInput): boolean {
  const { at, celsius, limits, recent, station } = input;
  const isLiquid = holdsMeltedWax(station.kind) || STATION_KIND_FACTS[station.kind].window === 'bath';
  if (!isLiquid || recent === null || isNearCeiling(input)) return false;
  return hasEasedOff(recent, at, celsius) || mayBePouredInto(input, recent, limits);
}

/** Whether it climbs past what is usual for it by more than the margin, or else what a rule of it answers. */
export function climbOf(input: StationInput, leastMargin: number): 'climbs' | Exclude<Evaluation, Holding> {
  const { band, celsius, celsiusPerHour } = input;
  const limit = climbLimit(input, leastMargin);
  if (limit === null || celsiusPerHour === null) return 'unknown';
  const top = limit + (band === null || isNearCeiling(input) ? 0 : liftOf(band));
  if (celsius <= top) return celsius <= top - 0.5 ? 'gone' : 'between';
  const isNone = celsiusPerHour <= 0 || isFarFromHarm(input, celsiusPerHour) || isPouredInto(input);
  return isNone ? 'between' : 'climbs';
}

export const runaway = stationRule({
  kind: 'runaway',
  priority: 'high',
  extremes: ['highest'],
  fewestSamples: 2,
  formula:
    'dT/dt > 0 and T > usual top + max(margin, 0.1 · usual band, 3 · its scatter; these two at most 0.4 of the way to the ceiling); after a warm-up, a disturbance or a dip further by what it then overshoots, with a door by 2.5 K, after a leap of its probe by the leap; less of that where the ceiling is 4 min away; not while hot wax or water may have been poured in, nor at a pot that is 2 h from its ceiling, or 20 min and up to 2.5 K above its usual top, nor at a softener that is 10 min from the edge of its window (after a disturbance: from its ceiling)',
  parameters: {
    margin_celsius_difference: parameter('celsius_difference', 0.8, [0.3, 20]),
    on_delay_seconds: onDelay(10),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over', 'probe-out'],
  appliesTo: (station, limits) => isThermostatic(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { band, celsius, celsiusPerHour } = input;
    const climb = climbOf(input, p.margin_celsius_difference);
    if (climb !== 'climbs') return climb;
    return {
      evidence: {
        value_celsius: celsius,
        band_high_celsius: band?.usual?.high ?? celsius,
        rate_celsius_per_hour: celsiusPerHour ?? 0,
      },
    };
  },
  staysQuiet: (input, p, bounds) => {
    const top = leastClimbLimit(input, p.margin_celsius_difference);
    return top === null || bounds.below(top);
  },
});
