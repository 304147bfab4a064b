// Two places in one softening cabinet that do not agree: the wax softens unevenly.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { isBeforePause, isClosing, isPause } from './closing.ts';

/** After a warm-up its places need so long to be even. */
const SETTLED_MILLIS = 20 * 60_000;
/** So shortly before closing, and not before a pause, it is switched off, and its fan with it. */
const CLOSING_MILLIS = 45 * 60_000;
const isSwitchedOff = (input: StationInput): boolean =>
  input.hours.open && isClosing(input, CLOSING_MILLIS) && !isBeforePause(input);

/** So far below its usual band it is switched off, or its door stands open. */
const OFF_CELSIUS = 2;
/** In a pause, for which many are switched off: below what its hottest place seldom falls below. */
const OFF_IN_PAUSE_CELSIUS = 0.3;
const isAtWork = (input: Pick<StationInput, 'hours'>): boolean => input.hours.open || isPause(input);

export const unevenAnnealer = stationRule({
  kind: 'uneven-annealer',
  priority: 'medium',
  extremes: [],
  formula:
    'mean of T hottest − T coldest (of two probes with its sign), forgetting by 1/e within 2 min or 3 readings (5 where doors are not seen), without 4 min from an opened door on (where doors are not seen: from a fall of T hottest by 1 K below what it seldom falls below on), > share · limit, not in the last 45 min before a closure of > 3 h, nor in one; in a pause not while T hottest is 0.3 K below what it seldom falls below',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 2.5, [0.5, 20]),
    early_share: parameter('share', 0.95, [0.3, 1]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(90),
    off_delay_seconds: offDelay(300),
  },
  appliesTo: (station) => STATION_KIND_FACTS[station.kind].comparesZones,
  evaluate: (input, p) => {
    const { activity, at, doors, limits, probes } = input;
    if (probes.length < 2) return 'unknown';
    if (activity === null || activity.kind === 'cold' || !isAtWork(input) || isSwitchedOff(input))
      return 'gone';
    const byHeat = [...probes].sort((a, b) => b.celsius - a.celsius);
    const [hottest, coldest] = [byHeat[0], byHeat.at(-1)];
    if (hottest === undefined || coldest === undefined || doors === null) return 'unknown';
    const lowest = Math.min(limits.windowLow?.value ?? doors.low, doors.low);
    const off = input.hours.open ? lowest - OFF_CELSIUS : doors.hottestLow - OFF_IN_PAUSE_CELSIUS;
    if (hottest.celsius < off) return 'gone';
    const spread = Math.abs(doors.spread);
    const limit = p.early_share * p.limit_celsius_difference;
    if (activity.kind !== 'hot' || at - activity.since < SETTLED_MILLIS)
      return spread <= limit ? 'gone' : 'between';
    if (spread <= limit) return spread <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: { spread_celsius_difference: spread, hottest: hottest.id, coldest: coldest.id },
      worst: spread,
    };
  },
  updateStep: 2,
  staysQuiet: (input, p, bounds) => {
    const { activity, probes } = input;
    if (probes.length === 0 || activity === null || activity.kind === 'cold' || !isAtWork(input)) return true;
    return bounds.zonesWithin(p.early_share * p.limit_celsius_difference);
  },
});
