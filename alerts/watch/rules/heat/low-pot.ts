// A pot that warms up much faster than it used to, or rises and falls much faster under its thermostat, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { paceDeviation } from '../../measures/rhythm.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';

/** Windows of cycles before the usual pace means anything, and those in a row that must be faster. */
const FEWEST_LEARNED = 5;
const FASTER_WINDOWS = 3;
const NEWEST_MILLIS = 2 * 3_600_000;
/** Standard deviations of the usual pace that work at the pot may bring about. */
const USUAL_DEVIATIONS = 4;

/** How many times as fast as usual it rises and falls; null unless it does in each of the newest windows. */
function timesAsFast({ at, rhythm }: StationInput, ratio: number): number | null {
  if (rhythm === null || rhythm.learned < FEWEST_LEARNED || at - rhythm.pacesAt > NEWEST_MILLIS) return null;
  if (rhythm.paces.length < FASTER_WINDOWS) return null;
  const slowest = Math.min(...rhythm.paces) - rhythm.pace;
  return slowest > paceDeviation(rhythm, USUAL_DEVIATIONS, Math.log(ratio)) ? Math.exp(slowest) : null;
}

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  formula:
    'warm-up time < share · usual warm-up time (from three on), or rise + fall in K/min, median of 7 cycles as wide as usual, 3 times in a row > usual · ratio and > 4 of its standard deviations',
  parameters: {
    share: parameter('share', 0.65, [0.2, 0.95]),
    pace_ratio: parameter('count', 1.3, [1.05, 5]),
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
    const times = timesAsFast(input, p.pace_ratio);
    if (times === null) return 'gone';
    const usualSeconds = (band?.usual?.riseSeconds ?? 0) + (band?.usual?.fallSeconds ?? 0);
    return { evidence: { took_minutes: usualSeconds / 60 / times, usual_minutes: usualSeconds / 60 } };
  },
});
