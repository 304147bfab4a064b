// The temperature leaves the band that the thermostat kept for days, upwards, and goes on rising.

import { isThermostatic, STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { HeaterBand, UsualBand } from '../../measures/heater-band.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import type { StationInput } from '../../rule/rule-input.ts';

/** Cycles, or ten minutes of steady control, before the band means anything. */
export const FEWEST_LEARNED = 6;
/** After a warm-up the temperature may overshoot for so long. */
const OVERSHOOT_MILLIS = 30 * 60_000;
/** Part of the band that the thermostat keeps is its own scatter. */
const SCATTER_SHARE = 0.15;
const SPREADS = 3;
/** After a door, a load or a ladle it may swing wider for so long. */
const DISTURBED_MILLIS = 15 * 60_000;
/** Not each door of a cabinet shows in its temperature; after one its air may swing wider by this. */
const DOOR_CELSIUS = 2.5;
/** What pulled it below its band makes the thermostat heat for longer: it swings as far beyond its top, up to this. */
const MOST_SWING_BACK = 0.5;
const swingBack = ({ going, valley, valleyAt, usual }: HeaterBand): number =>
  going === 1 && valleyAt > 0 ? Math.min(MOST_SWING_BACK, Math.max(0, (usual?.low ?? 0) - valley)) : 0;
/** So near the ceiling nothing but a runaway still rises so fast. */
const URGENT_MINUTES = 4;
const URGENT_SHARE = 0.4;

/** Kelvins above the usual top from which it is no cycle any more. */
const marginOf = ({ high, learned, low, spread }: UsualBand, least: number): number =>
  Math.max(least, SCATTER_SHARE * (high - low), SPREADS * spread) * (1 + 3 / learned);

/**
 * The temperature up to which a heater at work may rise by what is usual for it, °C; null while that is not known.
 * After a warm-up, a door or a ladle it may overshoot.
 */
export function climbLimit(
  { activity, at, band, disturbedAt, minutesToCeiling, overshoot, station }: StationInput,
  leastMargin: number,
): number | null {
  const usual = band?.usual ?? null;
  if (usual === null || usual.learned < FEWEST_LEARNED) return null;
  const sinceHot = activity?.kind === 'hot' ? at - activity.since : 0;
  const isUnsettled = sinceHot < OVERSHOOT_MILLIS || at - disturbedAt < DISTURBED_MILLIS;
  const isUrgent = minutesToCeiling !== null && minutesToCeiling <= URGENT_MINUTES;
  const unsettled = isUnsettled ? (isUrgent ? URGENT_SHARE : 1) * (1.3 * overshoot + 0.7) : 0;
  const swing = band === null || isUrgent ? 0 : swingBack(band);
  const allowed = Math.max(unsettled, swing) + (STATION_KIND_FACTS[station.kind].hasDoor ? DOOR_CELSIUS : 0);
  return undisturbedLimit(usual, leastMargin) + allowed;
}

const undisturbedLimit = (usual: UsualBand, leastMargin: number): number =>
  Math.max(usual.high + marginOf(usual, leastMargin), usual.top + 0.5 * leastMargin);

/** The least that `climbLimit` can be with this usual band, °C; null while that is not known. */
export function leastClimbLimit(band: HeaterBand | null, leastMargin: number): number | null {
  const usual = band?.usual ?? null;
  return usual === null || usual.learned < FEWEST_LEARNED ? null : undisturbedLimit(usual, leastMargin);
}

export const runaway = stationRule({
  kind: 'runaway',
  priority: 'high',
  fewestSamples: 2,
  formula:
    'T > usual top + max(margin, 0.15 · usual band, 3 · its scatter), after a dip below its usual band + up to 0.5 K, within 30 min of a warm-up and 15 min of a disturbance also + 1.3 · its usual overshoot + 0.7 K (0.4 of it where the ceiling is 4 min away), with a door + 2.5 K, and dT/dt > 0',
  parameters: {
    margin_celsius_difference: parameter('celsius_difference', 0.8, [0.3, 20]),
    on_delay_seconds: onDelay(10),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over', 'probe-out'],
  appliesTo: (station, limits) => isThermostatic(station.kind) && limits.windowLow !== null,
  evaluate: (input, p) => {
    const { band, celsius, celsiusPerHour } = input;
    const top = climbLimit(input, p.margin_celsius_difference);
    if (top === null || celsiusPerHour === null) return 'unknown';
    if (celsius <= top) return celsius <= top - 0.5 ? 'gone' : 'between';
    if (celsiusPerHour <= 0) return 'between';
    return {
      evidence: {
        value_celsius: celsius,
        band_high_celsius: band?.usual?.high ?? celsius,
        rate_celsius_per_hour: celsiusPerHour,
      },
    };
  },
  staysQuiet: ({ band }, p, bounds) => {
    const top = leastClimbLimit(band, p.margin_celsius_difference);
    return top === null || bounds.below(top);
  },
});
