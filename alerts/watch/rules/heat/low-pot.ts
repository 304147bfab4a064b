// A pot that warms up much faster than it used to, rises and falls faster under its thermostat, is lower than work
// ever took it, or cools faster while somebody works at it, than on the days before or from turn to turn, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { workReach } from '../../measures/furthest-of-days.ts';
import { GROWN, type GrowingFalls } from '../../measures/growing-falls.ts';
import { fasterBy, fasterThanFirst, type LevelSigns, unsureTimes } from '../../measures/level-signs.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';

/** Windows of cycles before the usual pace means anything, and those in a row that must be faster. */
const FEWEST_LEARNED = 5;
const WINDOWS = 3;
const NEWEST_MILLIS = 2 * 3_600_000;
const SINKING_MILLIS = 20 * 60_000;
/** Standard deviations of the usual pace that ordinary use may bring about while no two days are known. */
const USUAL_DEVIATIONS = 2.5;
/** Logarithm of how much faster than usual all newest cycles but one must be, and the share of what most of them are. */
const SLOW_CYCLES_LEAST = 0.1;
const SLOW_CYCLES_SHARE = 0.5;
/** Without a window of this time it cycles no more. */
const CYCLING_MILLIS = 3_600_000;
/** Logarithms of pace and of turns: where no newest window is so much above the usual, somebody turned the pot down. */
const SINKING_PACE = 0.03;
const SINKING_TURNS = 0.1;

/** How far it goes, of what it takes to be low. */
type Share = number | null;

/** By how much faster than usual, as a logarithm, it must rise and fall to hold little wax. */
function quickeningLimit({ pace, worked }: LevelSigns, ratio: number, workedRatio: number): number {
  const atWork = worked === undefined ? null : workReach(worked);
  return atWork === null
    ? Math.max(Math.log(ratio) * unsureTimes(pace), USUAL_DEVIATIONS * Math.sqrt(pace.variance))
    : Math.log(workedRatio) + atWork;
}

/**
 * On its first two days also this often the least that counts, against its first windows: ordinary use takes a quarter of the wax
 * within a day, which is a third of its pace at most, because pot and heater take up heat too. Engineering estimate.
 */
const FIRST_FILL = 1.5;
const isFirstDays = ({ worked }: LevelSigns): boolean => worked === undefined || workReach(worked) === null;

/** What rested within so long of its newest cycles is held steady; it is work that turns it, now large and now small. */
const HELD_STEADY_MILLIS = 4 * 3_600_000;
function turnsByItself({ band, levelSigns }: StationInput): boolean {
  const restedAt = band?.stretches?.at(-1)?.at ?? 0;
  return restedAt < (levelSigns?.newest.at(-1)?.at ?? 0) - HELD_STEADY_MILLIS;
}

/** Standard deviation of the logarithm of its pace above which it has no rhythm to lose: proportional control. */
const LEAST_REGULAR = 0.2;
const isRegular = ({ pace }: LevelSigns): boolean => Math.sqrt(pace.variance) <= LEAST_REGULAR;

/** Of how much faster it rises and falls in each of its newest windows of cycles; null where there are too few. */
function paceShare(input: StationInput, ratio: number, workedRatio: number): Share {
  const { levelSigns } = input;
  if (levelSigns === null || levelSigns.pace.learned < FEWEST_LEARNED || !turnsByItself(input)) return null;
  if (levelSigns.newest.length < WINDOWS || !isRegular(levelSigns)) return null;
  const share = fasterBy(levelSigns) / quickeningLimit(levelSigns, ratio, workedRatio);
  return isFirstDays(levelSigns) ? Math.max(share, firstFillShare(levelSigns, ratio)) : share;
}

const firstFillShare = (signs: LevelSigns, ratio: number): number =>
  fasterThanFirst(signs) / (FIRST_FILL * Math.log(ratio));

/** How many times as fast as usual it rises and falls; null unless it does in each of the newest windows. */
function timesAsFast({ at, levelSigns }: StationInput, share: Share): number | null {
  const last = levelSigns?.newest.at(-1);
  if (levelSigns === null || last === undefined || share === null || share <= 1) return null;
  if (at - last.at > NEWEST_MILLIS) return null;
  const faster = Math.max(fasterBy(levelSigns), isFirstDays(levelSigns) ? fasterThanFirst(levelSigns) : 0);
  // Cold wax makes some cycles steep; with less wax nearly all are, and about as much.
  const slowCycles = Math.max(SLOW_CYCLES_LEAST, SLOW_CYCLES_SHARE * faster);
  const usual = levelSigns.pace.mean - Math.max(0, faster - fasterBy(levelSigns));
  return last.slowPace - usual > slowCycles ? Math.exp(faster) : null;
}

/** How many times as fast as hours ago it rises and falls, where it quickened along a line to this hour; null otherwise. */
function timesQuicker(input: StationInput): number | null {
  const { at, levelSigns } = input;
  const by = levelSigns?.quickening?.by ?? 0;
  return by > 0 && turnsByItself(input) && at - (levelSigns?.newest.at(-1)?.at ?? 0) <= CYCLING_MILLIS
    ? Math.exp(by)
    : null;
}

/** Of how far it is below where it usually is, further than work took it on the days before. */
function sunkShare({ sinking }: StationInput, least: number): Share {
  if (sinking === null || sinking.sunk === null) return null;
  const atWork = workReach(sinking.work);
  return atWork === null ? null : sinking.sunk / (least + atWork);
}

/** Kelvins that it is below where it usually is; null unless that is so much and its heater keeps its power. */
function sunkBelow({ at, levelSigns, sinking }: StationInput, share: Share): number | null {
  if (sinking === null || share === null || share <= 1 || at - sinking.at > SINKING_MILLIS) return null;
  // A weak element sinks it too, but then it hardly turns any more, or turns slower.
  return levelSigns !== null && levelSigns.pace.learned >= FEWEST_LEARNED && cyclesFaster(levelSigns, at)
    ? sinking.sunk
    : null;
}

const cyclesFaster = ({ newest, pace, turns }: LevelSigns, at: number): boolean =>
  at - (newest.at(-1)?.at ?? 0) <= CYCLING_MILLIS &&
  newest.every((window) => window.pace - pace.mean > -SINKING_PACE) &&
  newest.some(
    (window) => window.pace - pace.mean > SINKING_PACE || window.turns - turns.mean > SINKING_TURNS,
  );

/** Share of what it takes to be low down to which it holds as little as before. */
const STILL_SHARE = 0.5;

const grownShare = (growing: GrowingFalls | null): Share =>
  growing && (growing.kelvins / growing.usual - 1) / (GROWN - 1);

/**
 * A pot does not fill itself: what was low stays so until its wax behaves as usual again, not only until nobody can say.
 * Without a rhythm only work shows that.
 */
function whileNothingShows(pace: Share, others: readonly Share[], grown: Share, isOn: boolean): Evaluation {
  if (!isOn) return 'gone';
  const shown = [pace, grown, ...others].filter((share) => share !== null);
  if (shown.some((share) => share > STILL_SHARE)) return 'between';
  return pace === null && grown === null && others.includes(null) ? 'unknown' : 'gone';
}

/** So many cycles, one after the other, are those of a thermostat, and no lid that was opened. */
const TURNS_BELOW = 2;

/**
 * Whether it warms up no further because its thermostat turns it off and on below its window: a weak element heats without a
 * break. Its feeler is in the wax and its probe no longer is.
 */
export const turnsWhileWarming = ({ activity, band }: Pick<StationInput, 'activity' | 'band'>): boolean => {
  const newest = band?.cycles.slice(-TURNS_BELOW) ?? [];
  return (
    activity?.kind === 'warming' &&
    newest.length === TURNS_BELOW &&
    newest.every(({ at, disturbed }) => at > activity.since && !disturbed)
  );
};

/** It warms up for longer than usual and turns below its window: how warm it gets, and how warm it usually is, °C; null otherwise. */
function turnsBelow(
  input: StationInput,
  ratio: number,
): { readonly celsius: number; readonly usual: number } | null {
  const { activity, at, band, warmUp } = input;
  const usual = band?.usual ?? null;
  if (usual === null || activity?.kind !== 'warming' || warmUp === null || !turnsWhileWarming(input))
    return null;
  const isLate = at - activity.since > 1000 * ratio * warmUp.usualSeconds;
  const top = band?.cycles.at(-1)?.high ?? usual.low;
  return isLate && warmUp.learned > 0 && top < usual.low ? { celsius: top, usual: usual.high } : null;
}

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  extremes: [],
  formula:
    'first warm-up < share · usual (from three on), or turning off and on below its usual band after usual / share; or, of cycles at which nobody works, of a pot that did not rest for ten minutes within 4 h of them and whose pace usually varies by 20 % at most, at least 0.6 · usual wide, rise + fall in K/min, median of 7, three times in a row > pace_ratio · usual on its first two days (its logarithm 1 + 10 / n times after n windows; or pace_ratio^1.5 · that of its first 12 cycles), then > worked_ratio · usual · furthest of the days before to the power of 1.5; or 14 of them that get faster, the last four by > 15 % and faster than ever; or, after two days with work, below its usual temperature by > sinking, all but ten minutes of 70, + 1.5 · furthest of the days before while it cycles as fast as usual or faster; or steepest fall in 3 min at work > falls_ratio · median of the days before, or of 8 turns of work within 5 h growing along a line by > 30 %; but for the first, over when pace, sinking and falls, where they are known, are within half of that',
  parameters: {
    share: parameter('share', 0.65, [0.2, 0.95]),
    pace_ratio: parameter('count', 1.25, [1.05, 5]),
    worked_ratio: parameter('count', 1.01, [1.001, 5]),
    sinking_celsius_difference: parameter('celsius_difference', 0.5, [0.1, 20]),
    falls_ratio: parameter('count', 1.4, [1.05, 5]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(900),
  },
  hiddenBehind: ['probe-out', 'fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) => holdsMeltedWax(station.kind) && limits.windowLow !== null,
  evaluate: (input, p, isOn) => {
    const { activity, band, sinking, warmUp, workFalls } = input;
    const turning = turnsBelow(input, 1 / p.share);
    if (turning !== null)
      return { evidence: { how: 'sinking', value_celsius: turning.celsius, usual_celsius: turning.usual } };
    if (activity?.kind !== 'hot') return 'unknown';
    if (warmUp !== null && warmUp.learned >= 3 && warmUp.seconds < p.share * warmUp.usualSeconds)
      return { evidence: { took_minutes: warmUp.seconds / 60, usual_minutes: warmUp.usualSeconds / 60 } };
    const pace = paceShare(input, p.pace_ratio, p.worked_ratio);
    const times = timesAsFast(input, pace) ?? timesQuicker(input);
    if (times !== null) {
      const usualSeconds = (band?.usual?.riseSeconds ?? 0) + (band?.usual?.fallSeconds ?? 0);
      return { evidence: { took_minutes: usualSeconds / 60 / times, usual_minutes: usualSeconds / 60 } };
    }
    const sunk = sunkShare(input, p.sinking_celsius_difference);
    const below = sunkBelow(input, sunk);
    if (below !== null) {
      const usual = sinking?.usual ?? 0;
      return { evidence: { how: 'sinking', value_celsius: usual - below, usual_celsius: usual } };
    }
    const falls = workFalls?.judged ?? null;
    if (falls !== null && falls.kelvins > p.falls_ratio * falls.usual)
      return {
        evidence: {
          how: 'falling',
          fall_celsius_difference: falls.kelvins,
          usual_fall_celsius_difference: falls.usual,
        },
      };
    const growing = workFalls?.growing ?? null;
    if (growing !== null && growing.kelvins > GROWN * growing.usual)
      return {
        evidence: {
          how: 'growing',
          fall_celsius_difference: growing.kelvins,
          usual_fall_celsius_difference: growing.usual,
        },
      };
    const steeper = falls === null ? null : (falls.kelvins / falls.usual - 1) / (p.falls_ratio - 1);
    return whileNothingShows(pace, [sunk, steeper], grownShare(growing), isOn);
  },
  // It goes by what is over: cycles, stretches and the newest warm-up; with time they only grow too old to count.
  staysQuiet: () => true,
});
