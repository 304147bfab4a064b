// The band that a thermostat keeps creeps away while its rhythm stays, within hours along a line or over days, or a pot
// that is off no longer rests at the temperature of the room: the probe drifts, or the thermostat's sensor does.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { type Creep, creepOf } from '../../measures/creep.ts';
import {
  type HeatCycle,
  type HeaterBand,
  newestTop,
  paceOf,
  type Reference,
} from '../../measures/heater-band.ts';
import { workReach } from '../../measures/furthest-of-days.ts';
import { type Rest, restShift } from '../../measures/rest.ts';
import type { Evaluation } from '../../rule/condition-timer.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { upperMedian } from '../../measures/upper-median.ts';

const FEWEST_REFERENCE = 40;
const REFERENCE_MILLIS = 20 * 3_600_000;
/** Logarithm of how much faster or slower than in its first days it cycles: it holds less wax, or more, or is weaker. */
const MOST_PACE_CHANGE = 0.15;
/** Of tops alone, which work lets stand: less wax makes them creep too, and cycles much faster. */
const MOST_PACE_CHANGE_OF_TOPS = 0.3;
const FEWEST_PACED = 4;
const OLDEST_TOP_MILLIS = 8 * 3_600_000;
/** Stretches of ten minutes at rest before the usual difference from the room means anything. */
const FEWEST_AT_REST = 18;
/** Share of a limit below which it is over. */
const LEAST_SHARE = 0.7;

interface Tops {
  readonly above: number;
  readonly stretches: HeaterBand['stretches'];
  /** Of the newest cycles; null while there are fewer than are needed. */
  readonly oldestAt: number | null;
  readonly top: number;
  /** Natural logarithm of rise and fall together, kelvins a minute; null where it is held steady. */
  readonly pace: number | null;
}

// Cycles change once in some minutes and are read at every reading.
const remembered = new WeakMap<readonly HeatCycle[], Tops>();

/** Work makes turns of its own, which prove nothing about a heater that is held steady between them. */
function paceOfNewest(newest: readonly HeatCycle[], stretches: HeaterBand['stretches'] = []): number | null {
  const turning = newest.filter(({ riseSeconds }) => riseSeconds > 0);
  const undisturbed = turning.filter(({ disturbed }) => !disturbed);
  const isSteady = (stretches.at(-1)?.at ?? 0) > (newest.at(-1)?.at ?? 0) - OLDEST_TOP_MILLIS;
  if (isSteady && undisturbed.length < FEWEST_PACED) return null;
  return upperMedian((isSteady ? undisturbed : turning).map(paceOf));
}

/** Of the newest cycles, and ten minutes of steady control, whose tops lie above. */
function newestTops(band: HeaterBand, above: number): Tops {
  const { cycles, stretches } = band;
  const before = remembered.get(cycles);
  if (before?.above === above && before.stretches === stretches) return before;
  const newest = newestTop(band, above);
  const oldestAt = newest?.cycles[0]?.at ?? null;
  const pace = newest === null ? null : paceOfNewest(newest.cycles, stretches);
  const tops = { above, stretches, oldestAt, top: newest?.top ?? 0, pace };
  remembered.set(cycles, tops);
  return tops;
}

/** A probe that was off at the last rest is off at work too, though nothing shows it there: it is so until the next rest. */
const LAST_REST_MILLIS = 26 * 3_600_000;
const wasOffAtRest = ({ at, rests }: StationInput, limit: number): boolean =>
  Math.abs(restShift(rests, at, FEWEST_AT_REST, LAST_REST_MILLIS) ?? 0) > LEAST_SHARE * limit;

/** A pot that is off makes no turns; it rests at the temperature around it. */
function evaluateRests(rests: readonly Rest[], at: number, celsius: number, limit: number): Evaluation {
  const shift = restShift(rests, at, FEWEST_AT_REST);
  if (shift === null) return 'unknown';
  if (Math.abs(shift) <= limit) return Math.abs(shift) <= LEAST_SHARE * limit ? 'gone' : 'between';
  return { evidence: { how: 'resting', value_celsius: celsius, usual_celsius: celsius - shift } };
}

/** Kelvins below its window that it may turn at, and beyond the first days' range that a line must have gone. */
const BELOW_WINDOW = 3;
const BEYOND_RANGE = 0.4;

/**
 * How far tops lie beyond the range of the first days, kelvins; with its sign. Where the set point was moved since, that range
 * goes along, and the nearest counts.
 */
function distanceBeyondRange(
  { high, highest = high, lowest = high, moved = [] }: Reference,
  top: number,
): number {
  const from = (shift: number): number =>
    top - Math.min(Math.max(top, Math.min(high, lowest) + shift), Math.max(high, highest) + shift);
  return moved.map(from).reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), from(0));
}

/**
 * Of the share of time that it usually heats: wax that sinks while its heater works harder is cooled, by cold pieces or by
 * people who dip. A sensor that drifts leaves the heater's work as it is.
 */
const MOST_MORE_HEATING = 1.08;

/** Whether its heater has worked harder than usual since; cycles that are not there say nothing. */
function worksHarder({ cycles, usual }: HeaterBand, since: number): boolean {
  const lately = cycles.filter(({ at }) => at > since);
  if (lately.length === 0 || usual === null) return false;
  const heated = lately.reduce((seconds, { riseSeconds }) => seconds + riseSeconds, 0);
  const whole = lately.reduce((seconds, cycle) => seconds + cycle.riseSeconds + cycle.fallSeconds, 0);
  return heated / whole > (MOST_MORE_HEATING * usual.riseSeconds) / (usual.riseSeconds + usual.fallSeconds);
}

/** Work took it as far down on the days before, where it is held steady and no cycle shows how hard its heater works. */
function isSunkByWork({ sinking }: StationInput, { to }: Creep): boolean {
  const atWork = sinking === null ? null : workReach(sinking.work);
  return sinking !== null && atWork !== null && sinking.usual - to <= atWork;
}

function creepAtWork(input: StationInput, limit: number): Creep | 'still' | null {
  const { activity, at, band, history, limits, wax } = input;
  if (activity?.kind !== 'hot' || band === null || limits.windowLow === null) return null;
  const least = Math.max(limits.windowLow.value - BELOW_WINDOW, wax?.melting.high.value ?? 0);
  const creep = creepOf(band, history.closed, activity.since, least, limit);
  const { reference, usual } = band;
  if (creep === null || creep === 'still' || reference === null) return creep;
  if (creep.to < creep.from && (worksHarder(band, creep.since) || isSunkByWork(input, creep))) return 'still';
  if (creep.isOfTops && usual !== null) {
    const { pace } = newestTops(band, usual.low);
    if (Math.abs((pace ?? 0) - (reference.pace ?? pace ?? 0)) > MOST_PACE_CHANGE_OF_TOPS) return 'still';
  }
  const isOld = at - reference.since >= REFERENCE_MILLIS;
  return isOld && Math.abs(distanceBeyondRange(reference, creep.to)) < BEYOND_RANGE ? 'still' : creep;
}

function evaluateAtWork(input: StationInput, least: number, isOn: boolean): Evaluation {
  const { at, band } = input;
  const creep = creepAtWork(input, least);
  if (creep !== null && creep !== 'still')
    return {
      since: creep.since,
      evidence: { how: 'creeping', value_celsius: creep.to, usual_celsius: creep.from },
    };
  const reference = band?.reference ?? null;
  const usual = band?.usual ?? null;
  const isReferred =
    reference !== null && reference.cycles >= FEWEST_REFERENCE && at - reference.since >= REFERENCE_MILLIS;
  // Nothing is learned while it is on: without days to hold it against, it ends when its turns stand still.
  if (band === null || usual === null || !isReferred) return isOn && creep === null ? 'unknown' : 'gone';
  // What has not begun yet does not wait for the next night: nothing is learned while it does.
  const unjudged: Evaluation = isOn ? 'unknown' : 'gone';
  const { oldestAt, pace, top } = newestTops(band, usual.low);
  if (oldestAt === null || at - oldestAt > OLDEST_TOP_MILLIS) return unjudged;
  if (pace !== null && Math.abs(pace - (reference.pace ?? pace)) > MOST_PACE_CHANGE) return unjudged;
  // How far its tops scatter now is widened by the drift itself.
  const { spread = usual.spread } = reference;
  const crept = distanceBeyondRange(reference, top);
  const limit = Math.max(least, 4 * spread);
  if (Math.abs(crept) <= limit) return Math.abs(crept) <= LEAST_SHARE * limit ? 'gone' : 'between';
  return { evidence: { how: 'working', value_celsius: top, usual_celsius: reference.high } };
}

export const probeDrift = stationRule({
  kind: 'probe-drift',
  priority: 'medium',
  extremes: [],
  looksAround: true,
  formula:
    'tops and bottoms of 4 cycles or 10 min, or more, of the last 3.5 h (the on-delay counts from the first of them) moved by > limit on one straight line (each within 12 %, both alike within 30 %), beyond 90 % of those before by 80 % of it, or so the tops of 4 half hours or more (each within 12 % and 0.2 K, ≤ 3 K/h, the highest bottoms following by 30 %, the newest > limit from the median before), while rise + fall differ by < 35 %, and not downwards while the share of time that it heats is > 1.08 · usual, nor as far below its usual temperature as 1.5 · furthest at work of the days before (from two on); or median top of the newest 8 cycles, or ten minutes of steady control, further from the top of the first days than ever in the first 20 h, by > limit, while they differ from those days by < 15 % (of steady control not asked); where tops stood still, within 15 % of the change, on the last day at work and elsewhere for 4 h today, those of the first days go along; while off for hours: |T − T of a place around it − what that usually is| > limit for most of the places, until it rests again',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 1.2, [0.3, 10]),
    on_delay_seconds: onDelay(1800),
    off_delay_seconds: offDelay(3600),
  },
  hiddenBehind: ['runaway', 'heading-over', 'over-ceiling', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: (input, { limit_celsius_difference: limit }, isOn) => {
    if (input.activity?.kind === 'cold') return evaluateRests(input.rests, input.at, input.celsius, limit);
    const evaluation = evaluateAtWork(input, limit, isOn);
    return evaluation === 'gone' && isOn && wasOffAtRest(input, limit) ? 'unknown' : evaluation;
  },
  // It goes by closed cycles and closed ten minutes; with time they only grow too old to count.
  staysQuiet: ({ activity, at, band }, _, bounds) => {
    const reference = band?.reference ?? null;
    if (activity?.kind === 'cold' || reference === null) return true;
    return at - reference.since >= REFERENCE_MILLIS || bounds.until(reference.since + REFERENCE_MILLIS);
  },
});
