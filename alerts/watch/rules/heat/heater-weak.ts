// A heater that takes much longer to warm up than it used to, or no longer reaches the band that it kept.

import type { Station } from '../../../../lab/station.ts';
import { holdsMeltedWax, isThermostatic, STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { highestWithin, lowestWithin, reachOf } from '../../measures/recent.ts';
import type { WarmUp } from '../../measures/warm-up.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
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

/** Longer than this a warm-up is too long: after one that was long already, half as much more is enough. */
function mostSeconds(station: Station, { learned, seconds, usualSeconds }: WarmUp, ratio: number): number {
  if (learned < FEWEST_WARM_UPS) return longest(station, usualSeconds, 1 + AFTER_ONE_TIMES * (ratio - 1));
  const half = 1 + (ratio - 1) / 2;
  return longest(station, usualSeconds, seconds > half * usualSeconds ? half : ratio);
}

export const heaterWeak = stationRule({
  kind: 'heater-weak',
  priority: 'medium',
  formula:
    'first warm-up of the day, finished or not, > 10 min (bath: 20 min) and > ratio · usual warm-up time (from two on) + 2 min, unfinished after another long one > (1 + ratio) / 2 · usual, of a pot after only one > (2 · ratio − 1) · that + 2 min, a pot not while its thermostat turns it off and on; or highest of 8 min < usual low − under, in working hours and not near closing',
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
      const isWorking = isWarming ? hours.open : at - activity.since < 4 * 3_600_000;
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
      if (hours.open && !bounds.until(activity.since + 1000 * mostSeconds(station, warmUp, p.ratio)))
        return false;
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
