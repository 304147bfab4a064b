// A heater that takes much longer to warm up than it used to, or no longer reaches the band that it kept.

import type { Station } from '../../../../lab/station.ts';
import { holdsMeltedWax, isThermostatic, STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { highestWithin, lowestWithin, reachOf } from '../../measures/recent.ts';
import type { WarmUp } from '../../measures/warm-up.ts';
import type { Holding } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { isClosing } from './closing.ts';
import { isSwitchedOffSoftener, SOFTENERS_CLOSING } from './no-heat.ts';
import { turnsWhileWarming } from './low-pot.ts';
import { FEWEST_LEARNED } from './runaway.ts';

const FEWEST_WARM_UPS = 2;
/** A pot's wax takes about as long each day; after one known warm-up only what is beyond twice the extra time is too long. */
const AFTER_ONE_TIMES = 2;
const fewestWarmUps = ({ kind }: Station): number => (holdsMeltedWax(kind) ? 1 : FEWEST_WARM_UPS);
/** In the first hour it still warms up. */
const OPENED_MILLIS = 60 * 60_000;
/** Further under its band it is off, or dead. */
const FARTHEST_UNDER = 15;
const UNDER_MILLIS = 9.5 * 60_000;
const SLACK_SECONDS = 120;
/** A bath that is filled warm is there within minutes, some days twice as late as on others; nobody waits for it. */
const SHORT_SECONDS = 600;
const SHORT_BATH_SECONDS = 1200;
const shortOf = ({ kind }: Station): number =>
  STATION_KIND_FACTS[kind].window === 'bath' ? SHORT_BATH_SECONDS : SHORT_SECONDS;
/** Cold wax or an open lid pulls it down for so long. */
const DISTURBED_MILLIS = 20 * 60_000;

const longest = (station: Station, usualSeconds: number, ratio: number): number =>
  Math.max(shortOf(station), ratio * usualSeconds + SLACK_SECONDS);

/** Of the extra time that the ratio leaves a warm-up: twice that after only one, half after one that was long already. */
function extraTimes({ learned, seconds, usualSeconds }: WarmUp, ratio: number): number {
  if (learned < FEWEST_WARM_UPS) return AFTER_ONE_TIMES;
  return seconds > (1 + (ratio - 1) / 2) * usualSeconds ? 0.5 : 1;
}

/** Longer than this a warm-up is too long. */
const mostSeconds = (station: Station, warmUp: WarmUp, ratio: number): number =>
  longest(station, warmUp.usualSeconds, 1 + extraTimes(warmUp, ratio) * (ratio - 1));

/** Heaters are switched on so long before the lab opens. Common practice. */
const PREHEAT_MILLIS = 2 * 3_600_000;
const isPreheat = ({ at, hours }: StationInput): boolean =>
  !hours.open && hours.to !== null && at >= hours.to - PREHEAT_MILLIS;

/**
 * Of the extra time that a whole warm-up may take, on the first half of the way: melting does not even that out, and with half
 * of its power a heater takes more than twice as long. The slack is a part of the whole one.
 */
const HALF_TIMES = 1.6;
const HALF_SHORT = 0.5;
const HALF_SLACK_SECONDS = 90;

/** Seconds from cold half way to its window beyond which that is too long; infinite while what is usual is not known. */
function mostHalfSeconds(station: Station, warmUp: WarmUp, ratio: number): number {
  if (warmUp.usualHalfSeconds === undefined) return Number.POSITIVE_INFINITY;
  const times = 1 + HALF_TIMES * extraTimes(warmUp, ratio) * (ratio - 1);
  return Math.max(HALF_SHORT * shortOf(station), times * warmUp.usualHalfSeconds + HALF_SLACK_SECONDS);
}

/** How long it has taken half way and usually takes, where that is too long on the way of today. */
function halfWayEvidence({ activity, at, station, warmUp }: StationInput, ratio: number): Holding | null {
  if (activity?.kind !== 'warming' || warmUp === null) return null;
  const seconds = warmUp.halfSeconds ?? (at - activity.since) / 1000;
  if (seconds <= mostHalfSeconds(station, warmUp, ratio)) return null;
  const usual = warmUp.usualHalfSeconds ?? seconds;
  // Time that has passed does not waver: nothing is waited out.
  return {
    since: activity.since,
    evidence: { how: 'half', took_minutes: seconds / 60, usual_minutes: usual / 60 },
  };
}

export const heaterWeak = stationRule({
  kind: 'heater-weak',
  priority: 'medium',
  extremes: ['lowest'],
  formula:
    'in working hours and the 2 h before them, first warm-up of the day, finished or not, > 10 min (bath: 20 min) and > ratio · usual warm-up time (from two on) + 2 min, unfinished after another long one > (1 + ratio) / 2 · usual, of a pot after only one > (2 · ratio − 1) · that + 2 min, a pot not while its thermostat turns it off and on; or from cold half way to its window (finished or not, until it is there) > 5 min (bath: 10 min) and > usual · (1 + 1.6 · what the ratio leaves the whole one) + 90 s (without on-delay); or highest of 8 min < usual low − under, in working hours and not near closing',
  parameters: {
    ratio: parameter('count', 1.35, [1.05, 5]),
    under_celsius_difference: parameter('celsius_difference', 2, [0.5, 20]),
    closing_minutes: parameter('minutes', 60, [0, 240]),
    on_delay_seconds: onDelay(300),
    off_delay_seconds: offDelay(1800),
  },
  hiddenBehind: ['no-heat', 'probe-out'],
  appliesTo: (station, limits) => isThermostatic(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, at, band, celsius, disturbedAt, hours, plannedOff, recent, station, warmUp } = input;
    if (activity === null || activity.kind === 'cold' || plannedOff) return 'gone';
    // From lunch it comes back from whatever it cooled to; only the first warm-up of a day begins cold.
    // What its thermostat turns off has power enough: a pot that is low, or turned down.
    const turnsBelow = holdsMeltedWax(station.kind) && turnsWhileWarming(input);
    const isReheating = activity.kind === 'warming' && activity.since !== warmUp?.startedAt;
    if (warmUp !== null && warmUp.learned >= fewestWarmUps(station) && !isReheating && !turnsBelow) {
      const isWarming = activity.kind === 'warming';
      const seconds = isWarming ? (at - activity.since) / 1000 : warmUp.seconds;
      const most = isWarming
        ? mostSeconds(station, warmUp, p.ratio)
        : longest(station, warmUp.usualSeconds, p.ratio);
      const isWorking = isWarming ? hours.open || isPreheat(input) : at - activity.since < 4 * 3_600_000;
      const half = halfWayEvidence(input, p.ratio);
      if (isWorking && half !== null) return half;
      if (isWorking && seconds > most)
        return { evidence: { took_minutes: seconds / 60, usual_minutes: warmUp.usualSeconds / 60 } };
    }
    const usual = band?.usual ?? null;
    if (usual === null || usual.learned < FEWEST_LEARNED || recent === null || !hours.open) return 'gone';
    const closing =
      60_000 * (holdsMeltedWax(station.kind) ? p.closing_minutes : SOFTENERS_CLOSING * p.closing_minutes);
    if (hours.from !== null && at - hours.from < OPENED_MILLIS) return 'gone';
    if (celsius < usual.low - FARTHEST_UNDER || isSwitchedOffSoftener(input)) return 'gone';
    if (activity.kind !== 'hot' || isClosing(input, closing)) return 'gone';
    if (at - disturbedAt < DISTURBED_MILLIS) return 'between';
    const highest = highestWithin(recent, at, UNDER_MILLIS);
    const edge = Math.min(usual.low, usual.bottom) - p.under_celsius_difference;
    const isRecovering = celsius > lowestWithin(recent, at, UNDER_MILLIS) + 0.8;
    if (reachOf(recent, at) < UNDER_MILLIS || highest >= edge || isRecovering) return 'gone';
    return { evidence: { value_celsius: celsius, band_low_celsius: usual.low } };
  },
  staysQuiet: ({ activity, at, band, hours, recent, station, warmUp }, p, bounds) => {
    if (activity === null || activity.kind === 'cold') return true;
    if (activity.kind === 'warming' && warmUp !== null && warmUp.learned >= fewestWarmUps(station)) {
      if (!hours.open && hours.to !== null && at < hours.to - PREHEAT_MILLIS)
        return bounds.until(hours.to - PREHEAT_MILLIS);
      if (!bounds.until(activity.since + 1000 * mostSeconds(station, warmUp, p.ratio))) return false;
      const seconds = warmUp.halfSeconds ?? mostHalfSeconds(station, warmUp, p.ratio);
      if (seconds > mostHalfSeconds(station, warmUp, p.ratio)) return false;
      if (warmUp.halfSeconds == null && !bounds.until(activity.since + 1000 * seconds)) return false;
    }
    const usual = band?.usual ?? null;
    if (usual === null || usual.learned < FEWEST_LEARNED || recent === null || !hours.open) return true;
    if (activity.kind !== 'hot') return true;
    if (hours.from !== null && at - hours.from < OPENED_MILLIS)
      return bounds.until(hours.from + OPENED_MILLIS);
    return (
      bounds.below(usual.low - FARTHEST_UNDER) ||
      bounds.above(Math.min(usual.low, usual.bottom) - p.under_celsius_difference)
    );
  },
});
