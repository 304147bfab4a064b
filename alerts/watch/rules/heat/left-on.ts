// A heater that is still heated after the lab has closed. A pot that is only cooling is not: it falls, and it stands
// still only while its wax freezes.

import { isThermostatic } from '../../../../lab/station-kinds.ts';
import type { UsualBand } from '../../measures/heater-band.ts';
import { extremesBetween, extremesOfLast, type History } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { FEWEST_LEARNED } from './runaway.ts';
import { stationRule } from '../../rule/rule.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** Freezing holds the temperature within this of the melting range. */
const PLATEAU_MARGIN = 2;

/** A shorter closure is a pause. Common practice. */
const LONGEST_PAUSE_HOURS = 3;
/** Work after hours ends within this. Common practice. */
const LATEST_EVENING_HOURS = 2.25;

/** Nothing but cold wax, a cold piece or a lid takes a heater under its band that comes back to it. */
const edgeOf = ({ high, low }: UsualBand): number => low - Math.max(0.7, 0.3 * (high - low));
const wentUnder = (history: History, usual: UsualBand | null, minutes: number): boolean =>
  usual !== null &&
  usual.learned >= FEWEST_LEARNED &&
  (extremesOfLast(history, minutes / 60)?.low ?? usual.low) < edgeOf(usual);

/** A fall that lasts for so many of its usual ones, below its band, has no end: it is off, though still near the band. */
const USUAL_FALLS = 1.5;
const isLeaving = ({ band, at, celsius }: StationInput): boolean => {
  const { going, peakAt, usual } = band ?? { going: 0, peakAt: 0, usual: null };
  if (usual === null || usual.fallSeconds === 0 || going !== -1 || peakAt === 0) return false;
  return celsius < usual.low - 0.1 && at - peakAt > USUAL_FALLS * 1000 * usual.fallSeconds;
};

/** Whoever works at one heater so long after closing works late; the others are on for that too. */
const WORKING_LATE_MILLIS = 10 * 60_000;
function isWorkedAround(input: StationInput, closedAt: number, minutes: number): boolean {
  const workedAt = input.workedAroundAt();
  return workedAt - closedAt > WORKING_LATE_MILLIS && input.at - workedAt < minutes * 60_000;
}

/** A timer may preheat a large pot for so long. Common practice. */
const LONGEST_PREHEATING_HOURS = 5;
/** A large pot is warm all night; so far below its band since closing, kelvins, it was off, and a timer has switched it on. */
const COOLED_KELVINS = 8;
const isPreheated = ({ at, history, hours }: StationInput, usual: UsualBand, closedAt: number): boolean =>
  hours.to !== null &&
  hours.to - at < LONGEST_PREHEATING_HOURS * 3_600_000 &&
  (extremesOfLast(history, Math.max(1, Math.floor((at - closedAt) / 3_600_000)))?.low ?? usual.low) <
    edgeOf(usual) - COOLED_KELVINS;

/** Before opening a heater is switched on at most so long. Common practice. */
const PREHEATING_HOURS = 3;

/** What is off gives off at least this share of its excess over the room in 30 min: a time constant of 16 h. */
const LEAST_FALL_SHARE = 0.03;
const ROOM_CELSIUS = 20;

/** A large pot gives off its heat of fusion within this after closing, where its band is not known. Common practice. */
const LONGEST_FREEZING_HOURS = 4;

/**
 * Whether people entered that it is to be on now, though the lab is closed. Whoever enters in the afternoon that it is to be warm
 * in the morning means that it is off in between; and staying late beyond the next opening is a slip, or means another evening.
 */
function isMeantToBeOn(input: StationInput): boolean {
  const { at, hours } = input;
  const late = input.meantUntil('staying-late-until');
  const warmAt = input.meantUntil('preheat-at');
  return (
    input.meantUntil('leave-on-overnight') !== null ||
    (late !== null && late <= (hours.to ?? late)) ||
    (warmAt !== null && warmAt - at < LONGEST_PREHEATING_HOURS * 3_600_000)
  );
}

export const leftOn = stationRule({
  kind: 'left-on',
  priority: 'high',
  extremes: [],
  formula:
    'closed for longer than the grace, not cold, and the highest of the last 10 min is not lower than that of 30 min before by the fall (at most 0.03 of the excess over 20 °C); while it may be freezing (melting range passed through; where its usual band is not known, in the first 4 h), only when it rises; gone while a fall below its usual band lasts for more than 1.5 usual ones',
  parameters: {
    grace_minutes: parameter('minutes', 55, [0, 720]),
    working_minutes: parameter('minutes', 75, [0, 240]),
    fall_celsius_difference: parameter('celsius_difference', 1.5, [0.2, 20]),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(600),
  },
  looksAround: true,
  reAlarmMinutes: 60,
  hiddenBehind: ['fire-risk', 'over-ceiling'],
  appliesTo: (station) => isThermostatic(station.kind),
  suppressedBy: (input) => (isMeantToBeOn(input) ? 'intended' : null),
  evaluate: (input, p) => {
    const { activity, at, band, celsius, disturbedAt, history, hours, wax } = input;
    if (hours.open || activity === null || activity.kind === 'cold') return 'gone';
    const closedAt = hours.from ?? at;
    // Lunch is no night: somebody comes back.
    if (hours.to !== null && hours.to - closedAt < LONGEST_PAUSE_HOURS * 3_600_000) return 'gone';
    if (at - closedAt < p.grace_minutes * 60_000) return 'gone';
    const isLateEvening = at - closedAt < LATEST_EVENING_HOURS * 3_600_000;
    const closedMinutes = 10 * Math.floor((at - closedAt) / 600_000 - 1);
    const workedFor = Math.min(p.working_minutes, closedMinutes);
    const isWorkedAt =
      at - disturbedAt < p.working_minutes * 60_000 || wentUnder(history, band?.usual ?? null, workedFor);
    if (isLateEvening && (isWorkedAt || isWorkedAround(input, closedAt, p.working_minutes))) return 'gone';
    // Switched on after closing: somebody works late, or preheats before opening.
    if (activity.since > closedAt && at - activity.since < PREHEATING_HOURS * 3_600_000) return 'gone';
    const usual = band?.usual ?? null;
    const isUsualKnown = usual !== null && usual.learned >= FEWEST_LEARNED;
    if (isUsualKnown && activity.kind === 'hot') {
      // A heater that is off leaves its band and does not come back.
      if (isPreheated(input, usual, closedAt)) return 'gone';
      if (celsius >= edgeOf(usual))
        return isLeaving(input) ? 'gone' : { evidence: { value_celsius: celsius, closed_at: closedAt } };
      const lately = extremesOfLast(history, 0.5);
      if (lately === null || celsius < lately.low + p.fall_celsius_difference) return 'gone';
      // It had cooled and is on again: a timer preheats.
      if (hours.to !== null && hours.to - at < LONGEST_PREHEATING_HOURS * 3_600_000) return 'gone';
    }
    const earlier = extremesBetween(history, 40 / 60, 20 / 60);
    const lately = extremesBetween(history, 20 / 60, 0);
    if (earlier === null || lately === null) return 'unknown';
    const fallen = earlier.high - Math.max(lately.high, celsius);
    const freezes =
      wax !== null &&
      (isUsualKnown || at - closedAt < LONGEST_FREEZING_HOURS * 3_600_000) &&
      earlier.high > wax.melting.low.value - PLATEAU_MARGIN &&
      celsius < wax.melting.high.value + PLATEAU_MARGIN;
    const least = Math.min(p.fall_celsius_difference, LEAST_FALL_SHARE * (celsius - ROOM_CELSIUS));
    const heated = freezes ? fallen < -PLATEAU_MARGIN : fallen < least;
    if (!heated) return 'gone';
    return { evidence: { value_celsius: celsius, closed_at: closedAt } };
  },
  staysQuiet: ({ activity, hours }, p, bounds) => {
    if (hours.open || activity === null || activity.kind === 'cold') return true;
    if (hours.from === null) return false;
    if (hours.to !== null && hours.to - hours.from < LONGEST_PAUSE_HOURS * 3_600_000) return true;
    return bounds.until(hours.from + p.grace_minutes * 60_000);
  },
});
