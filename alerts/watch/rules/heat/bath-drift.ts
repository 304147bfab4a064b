// A bath at work that leaves its window, or creeps towards its edge. While its temperature goes on turning up it is
// heated, and where it turns shows where it creeps to; a bath that only falls was switched off.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { HeaterBand } from '../../measures/heater-band.ts';
import { extremesBetween, extremesOfLast } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { fallingEdge } from './no-heat.ts';

const SETTLED_MILLIS = 40 * 60_000;
/** A trend means something only when what it starts from is settled too. */
const TREND_MILLIS = 90 * 60_000;
/** Without turning up for this many of its usual cycles it is off; where none are known, after so long and falling faster. */
const USUAL_CYCLES = 1.5;
const FEWEST_OFF_MILLIS = 8 * 60_000;
const HEATED_MILLIS = 25 * 60_000;
const COOLING_RATE = 2.5;
/** So far under its window it was let cool; what drifts was seen to leave it. */
const COOLED_KELVINS = 5;
/** Kelvins that its top must have left the first days' by, and times its own scatter. */
const LEAST_SHIFT = 0.3;
const MOST_SPREAD = 0.25;
const SHIFT_SPREADS = 3;
const FEWEST_REFERENCE = 6;
/** Hours: the newest stretch, and the one before it; their middles lie half an hour apart. */
const NEWEST_HOURS = 1 / 3;
const EARLIER_HOURS = [1, 0.5] as const;
const APART_MINUTES = 30;
const USUAL_HOURS = 25;
const RECOVERED_HOURS = 1.5;
const LET_COOL_KELVINS = 0.5;
/** What work did to the newest stretch is out of it after so long. */
const WORKED_MILLIS = 35 * 60_000;

interface Creep {
  /** Extremes of the newest stretch, °C, how fast its tops move, and how fast they rise and its low ends with them, kelvins a minute. */
  readonly low: number;
  readonly high: number;
  readonly perMinute: number;
  readonly upPerMinute: number;
}

function creepOf({ history }: StationInput): Creep | null {
  const newest = extremesOfLast(history, NEWEST_HOURS);
  const earlier = extremesBetween(history, ...EARLIER_HOURS);
  if (newest === null || earlier === null) return null;
  // Its tops: cold water and cold pieces take the low ends along, and the thermostat nothing but the tops.
  const perMinute = (newest.high - earlier.high) / APART_MINUTES;
  // Hot water lifts the tops alone for a while.
  const upPerMinute = Math.min(perMinute, (newest.low - earlier.low) / APART_MINUTES);
  return { ...newest, perMinute, upPerMinute };
}

/** Of its usual band that it must rise by before a turn is one of its thermostat's and no noise of the probe's. */
const RISEN_SHARE = 0.4;

function isHeated(
  band: HeaterBand,
  { activity, at, celsius, celsiusPerHour }: StationInput,
  { perMinute }: Creep,
): boolean | 'unsure' {
  // So far below its usual band, and still falling, it was switched off: a thermostat would have turned it up.
  const isFalling = band.going === -1 && (celsiusPerHour ?? 0) < -COOLING_RATE;
  if (isFalling && band.usual !== null && celsius < fallingEdge(band.usual)) return false;
  // Where power is given in proportion it turns only after cold water or a lid; what is off falls faster than what drifts.
  const hotSince = activity?.kind === 'hot' ? activity.since : at;
  if ((band.stretches?.at(-1)?.at ?? 0) > hotSince) return perMinute > -COOLING_RATE / 60;
  const width = (band.usual?.high ?? 0) - (band.usual?.low ?? 0);
  const risen = (band.going === 1 ? band.top : band.peak) - band.valley;
  if (risen < RISEN_SHARE * width) return 'unsure';
  if (band.going === 1) return true;
  const cycle = 1000 * ((band.usual?.riseSeconds ?? 0) + (band.usual?.fallSeconds ?? 0));
  // One that has turned before and turns no more was switched off, however slowly it cools.
  if (cycle > 0) return at - band.valleyAt < Math.max(FEWEST_OFF_MILLIS, USUAL_CYCLES * cycle);
  return at - band.valleyAt < HEATED_MILLIS || perMinute > -COOLING_RATE / 60;
}

/** Where it will be when the horizon has passed, lowest and highest; null while it is where it usually is. */
function forecastRange(
  { at, band, disturbedAt, history, limits, recent }: StationInput,
  { high, low, perMinute, upPerMinute }: Creep,
  minutes: number,
): { readonly low: number; readonly high: number } | null {
  const reference = band?.reference ?? null;
  const moved = perMinute * minutes;
  if (recent === null) return null;
  if (reference === null || reference.cycles < FEWEST_REFERENCE) {
    // From below its window, as after lunch, it comes back to where it was.
    const lowest = extremesOfLast(history, RECOVERED_HOURS)?.low ?? recent.mean;
    const isRecovering = lowest < (limits.windowLow?.value ?? lowest);
    return { low: recent.mean + moved, high: recent.mean + (isRecovering ? 0 : moved) };
  }
  const least = Math.max(LEAST_SHIFT, SHIFT_SPREADS * Math.min(MOST_SPREAD, band?.usual?.spread ?? 0));
  const shift = high - reference.high;
  // Where it stood and turned within the last day, as under a lid at rest, it does again.
  const isUsual = high <= (extremesBetween(history, USUAL_HOURS, 1)?.high ?? high - 1) + LEAST_SHIFT;
  if (shift > least)
    return { low: recent.mean, high: high + (isUsual ? 0 : Math.max(0, upPerMinute * minutes)) };
  if (shift >= -least) return null;
  // How far work took it down lately proves nothing about where its thermostat keeps it.
  const lowest = at - disturbedAt < WORKED_MILLIS ? recent.mean : low;
  return { low: lowest + Math.min(0, moved), high: recent.mean };
}

/** After a pause in which it was let cool. */
const isWarmedUpAgain = ({ at, history, hours }: StationInput, windowLow: number): boolean =>
  hours.from !== null &&
  at - hours.from < SETTLED_MILLIS &&
  (extremesOfLast(history, RECOVERED_HOURS)?.low ?? 0) < windowLow - LET_COOL_KELVINS;

export const bathDrift = stationRule({
  kind: 'bath-drift',
  priority: 'medium',
  extremes: ['highest', 'lowest'],
  fewestSamples: 2,
  formula:
    'open, settled for 40 min (after a pause too in which it was below its window by > 0.5 K), heated (turning up by 0.4 of its usual band within 1.5 usual cycles; where it stood still since it became warm, falling by < 2.5 K/h; where no cycles are known, that or turning up within 25 min; not falling below its usual band by > 2 K), and the extremes of the last 20 min (its mean instead of its lowest within 35 min of work), top shifted from the first days’ by > 0.3 K, + horizon · creep of its tops in half an hour beyond the edge (upwards only above the highest of the last day, and as far as its low ends rise too; while its usual top is not known, not within 1.5 h of having been below its window)',
  parameters: {
    horizon_minutes: parameter('minutes', 12, [0, 60]),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over', 'no-heat', 'probe-out'],
  appliesTo: (station, limits) =>
    STATION_KIND_FACTS[station.kind].window === 'bath' && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, at, band, celsius, disturbedAt, hours, limits, plannedOff } = input;
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null) return 'unknown';
    if (!hours.open || plannedOff || activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS)
      return 'gone';
    if (isWarmedUpAgain(input, windowLow.value)) return 'gone';
    if (at - disturbedAt < 5 * 60_000) return 'between';
    const [low, high] = [windowLow.value, windowHigh.value];
    if (celsius < low - COOLED_KELVINS) return 'between';
    const evidence = { evidence: { value_celsius: celsius, low_celsius: low, high_celsius: high } };
    const creep = at - activity.since < TREND_MILLIS ? null : creepOf(input);
    if (creep === null || band === null) return 'gone';
    const heated = isHeated(band, input, creep);
    if (heated !== true) return heated === 'unsure' ? 'between' : 'gone';
    const then = forecastRange(input, creep, p.horizon_minutes);
    return then !== null && (then.high > high || then.low < low) ? evidence : 'gone';
  },
  staysQuiet: (input, p, bounds) => {
    const { activity, band, hours, limits, recent } = input;
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null || !hours.open || activity?.kind !== 'hot') return true;
    if (bounds.until(activity.since + TREND_MILLIS)) return true;
    if (hours.from !== null && isWarmedUpAgain(input, windowLow.value))
      return bounds.until(hours.from + SETTLED_MILLIS);
    const creep = creepOf(input);
    if (creep === null || band === null || recent === null) return true;
    const moved = creep.perMinute * p.horizon_minutes;
    const room = Math.min(
      windowHigh.value - Math.max(creep.high, recent.mean) - Math.max(0, moved),
      Math.min(creep.low, recent.mean) + Math.min(0, moved) - windowLow.value,
    );
    // Extremes that are moved by so much move the creep too, at half of it each in the time between the stretches.
    const slack = room / (1 + p.horizon_minutes / APART_MINUTES);
    return slack > 0 && bounds.below(creep.high + slack) && bounds.above(creep.low - slack);
  },
});
