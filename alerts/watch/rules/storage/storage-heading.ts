// A place where patterns wait is heading out of its limits.

import type { StationLimits } from '../../../../lab/limits.ts';
import { stores } from '../../../../lab/station-kinds.ts';
import {
  calmestRange,
  type Extremes,
  extremesBetween,
  extremesOfLast,
  type History,
  hoursOfHistory,
  meanExtremesBetween,
} from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { ABOVE_CLASS_LIMIT_KELVINS, aboveClassLimit } from './class-limit.ts';
import { emptyPlace } from './empty-place.ts';
import { isFirstMorning } from './first-morning.ts';

/** Slower than this it is the day's own course, °C an hour. */
const LEAST_RATE = 0.2;
/** What creeps on, °C an hour, counts within the guard band, further out than all of a day until some hours ago. */
const CREEPING = { least: 0.04, most: 0.5, youngerHours: 6, slackKelvins: 0.1 };
/** A place that is regulated turns where it turned before: within its extremes of the last day a forecast reaches less far. */
const USUAL = { hours: 24, youngerHours: 0.75, leastHours: 3, slackKelvins: 0.1, horizonShare: 1 / 3 };
/** A forecast that ends so near a limit is as good as one beyond it. */
const EDGE_KELVINS = 0.15;
/** A value so near may be beyond it already, by the expanded uncertainty of the probe: a guard band of U, within bounds. */
const GUARD_KELVINS = { least: 0.15, most: 0.5 };
/** A day's course turns sooner than what needs longer to cross the guard band at its pace. */
const GUARD_HOURS = 2;
/** It goes on where it is within this of the furthest of the last minutes; after an airing it comes back. */
const FURTHEST_KELVINS = 0.3;
const FURTHEST_HOURS = 1 / 6;
/** Where readings are further apart, the one before is what it is compared with. */
const BEFORE_HOURS = 3;

const guardBandOf = (uncertainty: number): number =>
  Math.max(GUARD_KELVINS.least, Math.min(GUARD_KELVINS.most, uncertainty));

function edgesOf({ storageMax, windowLow }: StationLimits): { readonly high: number; readonly low: number } {
  const high =
    storageMax === null
      ? Number.POSITIVE_INFINITY
      : storageMax.value + aboveClassLimit(storageMax, ABOVE_CLASS_LIMIT_KELVINS);
  return { high, low: windowLow?.value ?? Number.NEGATIVE_INFINITY };
}

const usualOf = (history: History): Extremes | null =>
  extremesBetween(history, USUAL.hours, USUAL.youngerHours);

function isFurthest(history: History, celsius: number, rate: number): boolean {
  const before = meanExtremesBetween(history, USUAL.hours, CREEPING.youngerHours);
  if (before === null) return false;
  return rate > 0
    ? celsius > before.high + CREEPING.slackKelvins
    : celsius < before.low - CREEPING.slackKelvins;
}

export const storageHeading = stationRule({
  kind: 'storage-heading',
  priority: 'high',
  extremes: ['highest', 'lowest'],
  formula:
    'T within U of a limit (0.15 to 0.5 K; 0.15 K within the extremes of the last day, unless it creeps beyond those of 6 to 24 h ago) and there within 2 h at its pace, or within near of it and T + dT/dt · horizon (a third of it within the extremes of the last day, in the first 3 h, and rising on a first morning, from 3 h before opening to 1 h after) beyond the limit or within 0.15 K; T within 0.3 K, or its noise, of its furthest in the last 10 min',
  parameters: {
    horizon_minutes: parameter('minutes', 20, [5, 240]),
    near_celsius_difference: parameter('celsius_difference', 2, [0.2, 10]),
    on_delay_seconds: onDelay(420),
    off_delay_seconds: offDelay(1200),
  },
  hiddenBehind: ['storage-warm', 'storage-cold', 'door-open'],
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind),
  evaluate: (input, p) => {
    const { celsius: mean, celsiusPerHour, history, limits, probes, uncertainty } = input;
    if (celsiusPerHour === null) return 'unknown';
    const rate = celsiusPerHour;
    if (Math.abs(rate) < CREEPING.least) return 'gone';
    // The level of a cabinet that is ahead of the others counts.
    const levels = probes.map((probe) => probe.celsius);
    const celsius = rate > 0 ? Math.max(mean, ...levels) : Math.min(mean, ...levels);
    const { high, low } = edgesOf(limits);
    const near = p.near_celsius_difference;
    const usual = hoursOfHistory(history) < USUAL.leastHours ? null : usualOf(history);
    const isBeyond =
      usual === null ||
      (rate > 0 ? celsius > usual.high + USUAL.slackKelvins : celsius < usual.low - USUAL.slackKelvins);
    const isNew = usual === null || (rate > 0 && isFirstMorning(input));
    const isMoving = Math.abs(rate) >= LEAST_RATE;
    const minutes = isBeyond && !isNew ? p.horizon_minutes : p.horizon_minutes * USUAL.horizonShare;
    const ahead = celsius + (rate * minutes) / 60;
    const isCreeping = Math.abs(rate) < CREEPING.most && isFurthest(history, mean, rate);
    // Where it turned before, the uncertainty of its probe is no news.
    const widest = isBeyond || isCreeping ? guardBandOf(uncertainty) : GUARD_KELVINS.least;
    const guard = Math.min(widest, GUARD_HOURS * Math.abs(rate));
    const mayPass = isMoving || isCreeping;
    const isWarm =
      rate > 0 &&
      ((celsius >= high - guard && mayPass) ||
        (isMoving && ahead > high - EDGE_KELVINS && celsius > high - near));
    const isCold =
      rate < 0 &&
      ((celsius <= low + guard && mayPass) ||
        (isMoving && ahead < low + EDGE_KELVINS && celsius < low + near));
    if (!isWarm && !isCold) return 'gone';
    const isSparse = extremesOfLast(history, FURTHEST_HOURS) === history.open;
    const lately = extremesOfLast(history, isSparse ? BEFORE_HOURS : FURTHEST_HOURS);
    if (lately === null) return 'unknown';
    const back = Math.max(FURTHEST_KELVINS, calmestRange(history));
    const isComingBack = rate > 0 ? mean < lately.high - back : mean > lately.low + back;
    if (isComingBack) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        limit_celsius: isWarm ? high : low,
        rate_celsius_per_hour: rate,
        side: isWarm ? 'warm' : 'cold',
      },
    };
  },
  staysQuiet: ({ limits, uncertainty }, p, bounds) => {
    const { high, low } = edgesOf(limits);
    const near = Math.max(p.near_celsius_difference, guardBandOf(uncertainty));
    return bounds.allBelow(high - near) && bounds.allAbove(low + near);
  },
});
