// A pot that warms up much faster than it used to, or rises much faster under its thermostat, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const FEWEST_LEARNED = 6;
/** Of the cycles of the last hour, this many must rise so quickly. */
const QUICKEST = 3;
const NEWEST_MILLIS = 3_600_000;

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  detects:
    'A pot that reached its window in much less time than usual, or that rises much faster than usual under its thermostat.',
  formula:
    'warm-up time < share · usual warm-up time (from three on), or three rises of the last hour quicker than the usual rise / share',
  parameters: {
    share: parameter('of the usual time', 'share', 0.65, [0.2, 0.95]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(900),
  },
  rationale: 'A dry pot overheats its rest of wax and its heater.',
  consequence: 'The rest of the wax ages fast; a dry heater can scorch.',
  response: 'Look at the level and top it up with the same wax.',
  hiddenBehind: ['probe-out', 'fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) => holdsMeltedWax(station.kind) && limits.windowLow !== null,
  evaluate: ({ activity, at, band, warmUp }, p) => {
    if (activity?.kind !== 'hot') return 'unknown';
    if (warmUp !== null && warmUp.learned >= 3 && warmUp.seconds < p.share * warmUp.usualSeconds)
      return { evidence: { took_minutes: warmUp.seconds / 60, usual_minutes: warmUp.usualSeconds / 60 } };
    const usual = band?.usual ?? null;
    if (band === null || usual === null || usual.learned < FEWEST_LEARNED || usual.riseSeconds === 0)
      return 'gone';
    // Work only slows a rise, so the quicker ones of the newest tell how much wax is heated.
    const rates = band.cycles
      .filter((cycle) => at - cycle.at < NEWEST_MILLIS)
      .map(({ high, low, riseSeconds }) => (high - low) / riseSeconds)
      .sort((a, b) => b - a);
    const rate = rates[QUICKEST - 1];
    const usualRate = (usual.high - usual.low) / usual.riseSeconds;
    if (rate === undefined || rate < usualRate / p.share) return 'gone';
    const width = usual.high - usual.low;
    return { evidence: { took_minutes: width / rate / 60, usual_minutes: usual.riseSeconds / 60 } };
  },
});
