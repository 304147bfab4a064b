// A pot that warms up much faster than it used to, rises and falls much faster under its thermostat, or swings lower and
// faster than work ever made it, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { lastingExtremes, unusualFrom } from '../../measures/level-signs.ts';
import { paceDeviation } from '../../measures/rhythm.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';

/** Windows of cycles before the usual pace means anything, and those in a row that must be faster. */
const FEWEST_LEARNED = 5;
const WINDOWS = 3;
const NEWEST_MILLIS = 2 * 3_600_000;
/** Standard deviations of the usual pace that work at the pot may bring about. */
const USUAL_DEVIATIONS = 4;
/** Logarithm of how much faster than usual all newest cycles but one must be, and the share of what most of them are. */
const SLOW_CYCLES_LEAST = 0.1;
const SLOW_CYCLES_SHARE = 0.5;
/** Cold wax makes cycles wider and steeper but no more frequent; logarithm of how much more often they must come. */
const TURNS_LEAST = 0.05;
const TURNS_DEVIATIONS = 1.5;
/** Windows before the usual middle of its swings means anything. */
const FEWEST_MIDDLES = 20;
/** Kelvins; less is noise, however steady it was. */
const LEAST_SUNK = 0.2;
/** Logarithms: one of both must be so much more than usual, or somebody turned the pot down. */
const SINKING_PACE = 0.03;
const SINKING_TURNS = 0.1;
/** Work makes it rise and fall faster by this at least, and turn more often by this. */
const LEAST_FASTER = 0.06;
const OFTENER_AT_WORK = 0.3;
/**
 * Its fall and its pace, each as a multiple of what work did at most on the days before, must come to this together; one
 * of them alone hardly can. The fewer days were seen, the further work may take it.
 */
const BEYOND_WORK = 3.3;
const MOST_SUNK = 2.3;
const MOST_FASTER = 2;
const FEW_DAYS_SHARE = 0.4;

/** How many times as fast as usual it rises and falls; null unless it does in each of the newest windows. */
function timesAsFast(input: StationInput, ratio: number, anyRatio: number): number | null {
  const { at, rhythm } = input;
  if (rhythm === null || rhythm.learned < FEWEST_LEARNED || at - rhythm.pacesAt > NEWEST_MILLIS)
    return timesAsFastAtWork(input, anyRatio);
  const slowest = rhythm.paces.length < WINDOWS ? 0 : Math.min(...rhythm.paces) - rhythm.pace;
  const isFast =
    slowest > paceDeviation(rhythm, USUAL_DEVIATIONS, Math.log(ratio)) && isFasterThroughout(input, slowest);
  return isFast ? Math.exp(slowest) : timesAsFastAtWork(input, anyRatio);
}

/** Work makes some cycles steep; with less wax nearly all are, and about as much. `most`: logarithm for most of them. */
const isFasterThroughout = ({ levelSigns }: StationInput, most = 0): boolean => {
  const newest = levelSigns?.newest.at(-1);
  if (levelSigns === null || newest === undefined) return true;
  const least = Math.max(SLOW_CYCLES_LEAST, SLOW_CYCLES_SHARE * most);
  return newest.slowPace - levelSigns.pace.mean > least;
};

/** The same from cycles of any width, where they are turned through faster too. */
function timesAsFastAtWork(input: StationInput, ratio: number): number | null {
  const { at, levelSigns } = input;
  if (levelSigns === null || levelSigns.newest.length < WINDOWS) return null;
  const { newest, pace, turns } = levelSigns;
  if (pace.learned < FEWEST_LEARNED || at - (newest.at(-1)?.at ?? 0) > NEWEST_MILLIS) return null;
  const slowest = Math.min(...newest.map((window) => window.pace)) - pace.mean;
  const rarest = Math.min(...newest.map((window) => window.turns)) - turns.mean;
  const isFast =
    slowest > unusualFrom(pace, USUAL_DEVIATIONS, Math.log(ratio)) &&
    rarest > Math.max(TURNS_LEAST, TURNS_DEVIATIONS * Math.sqrt(turns.variance)) &&
    isFasterThroughout(input, slowest);
  return isFast ? Math.exp(slowest) : null;
}

interface Sinking {
  readonly middle: number;
  readonly usual: number;
}

/** It swings lower and faster in each of the newest windows than work made it on any day before; null otherwise. */
function sinking({ activity, at, levelSigns }: StationInput, least: number): Sinking | null {
  const { newest = [], pace, turns, work } = levelSigns ?? {};
  if (pace === undefined || turns === undefined || work === undefined || work.days === 0) return null;
  if (activity?.kind !== 'hot' || work.middle.learned < FEWEST_MIDDLES || newest.length < WINDOWS)
    return null;
  if (at - (newest.at(-1)?.at ?? 0) > NEWEST_MILLIS) return null;
  const { faster, sunk } = lastingExtremes(work, pace, newest);
  const oftener = Math.min(...newest.map((window) => window.turns)) - turns.mean;
  if (sunk < LEAST_SUNK || faster < -SINKING_PACE) return null;
  if (faster < SINKING_PACE && oftener < SINKING_TURNS) return null;
  const wide = 1 + FEW_DAYS_SHARE / work.days;
  const timesSunk = sunk / Math.max(least, wide * work.before.sunk);
  const timesFaster = Math.max(
    faster / Math.max(LEAST_FASTER, wide * work.before.faster),
    oftener / OFTENER_AT_WORK,
  );
  const beyond = Math.min(MOST_SUNK, timesSunk) + Math.min(MOST_FASTER, Math.max(0, timesFaster));
  const usual = work.middle.mean;
  return beyond >= BEYOND_WORK ? { middle: usual - sunk, usual } : null;
}

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  formula:
    'warm-up time < share · usual warm-up time (from three on); or rise + fall in K/min, median of 7 cycles, 3 times in a row > usual by the ratio and by 4 of its standard deviations (cycles as wide as usual by pace_ratio; of any width, turning > 5 % more often, by worked_ratio); each time with all newest cycles but one > 10 % faster than usual, and half as much as most of them; or 3 times in a row: (usual middle of its swings − median middle of 7 cycles) / max(sinking, furthest of the days before), at most 2.3, + the larger of (logarithm of their pace − usual) / max(0.06, most of the days before) and (logarithm of turns − usual) / 0.3, at most 2, ≥ 3.3, while it is > 3 % faster or turns > 10 % more often',
  parameters: {
    share: parameter('share', 0.65, [0.2, 0.95]),
    pace_ratio: parameter('count', 1.3, [1.05, 5]),
    worked_ratio: parameter('count', 1.22, [1.05, 5]),
    sinking_celsius_difference: parameter('celsius_difference', 0.3, [0.1, 20]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(900),
  },
  hiddenBehind: ['probe-out', 'fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) => holdsMeltedWax(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { activity, band, warmUp } = input;
    if (activity?.kind !== 'hot') return 'unknown';
    if (warmUp !== null && warmUp.learned >= 3 && warmUp.seconds < p.share * warmUp.usualSeconds)
      return { evidence: { took_minutes: warmUp.seconds / 60, usual_minutes: warmUp.usualSeconds / 60 } };
    const times = timesAsFast(input, p.pace_ratio, p.worked_ratio);
    if (times !== null) {
      const usualSeconds = (band?.usual?.riseSeconds ?? 0) + (band?.usual?.fallSeconds ?? 0);
      return { evidence: { took_minutes: usualSeconds / 60 / times, usual_minutes: usualSeconds / 60 } };
    }
    const sunk = sinking(input, p.sinking_celsius_difference);
    return sunk === null
      ? 'gone'
      : { evidence: { how: 'sinking', value_celsius: sunk.middle, usual_celsius: sunk.usual } };
  },
  // It goes by closed cycles and the newest warm-up; with time they only grow too old to say anything.
  staysQuiet: () => true,
});
