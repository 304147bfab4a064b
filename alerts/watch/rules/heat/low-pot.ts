// A pot that warms up much faster than it used to, or rises much faster under its thermostat, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const FEWEST_LEARNED = 6;
const CYCLES = 3;
const NEWEST_MILLIS = 2 * 3_600_000;
const FALL_SHARE = 0.85;

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  formula:
    'warm-up time < share · usual warm-up time (from three on), or rise per kelvin of 3 undisturbed cycles in a row < share · usual and fall < 0.85 · usual',
  parameters: {
    share: parameter('of the usual time', 'share', 0.65, [0.2, 0.95]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(900),
  },
  hiddenBehind: ['probe-out', 'fire-risk', 'over-ceiling'],
  appliesTo: (station, limits) => holdsMeltedWax(station.kind) && limits.windowLow !== null,
  evaluate: ({ activity, at, band, warmUp }, p) => {
    if (activity?.kind !== 'hot') return 'unknown';
    if (warmUp !== null && warmUp.learned >= 3 && warmUp.seconds < p.share * warmUp.usualSeconds)
      return { evidence: { took_minutes: warmUp.seconds / 60, usual_minutes: warmUp.usualSeconds / 60 } };
    const usual = band?.usual ?? null;
    if (band === null || usual === null || usual.learned < FEWEST_LEARNED || usual.riseSeconds === 0)
      return 'gone';
    // Cycles in which nobody was at work: half the wax rises and falls twice as fast.
    const newest = band.cycles.filter(({ disturbed }) => !disturbed).slice(-CYCLES);
    if (newest.length < CYCLES || at - (newest[0]?.at ?? 0) > NEWEST_MILLIS) return 'gone';
    const width = usual.high - usual.low;
    const isFaster = newest.every(({ fallSeconds, high, low, riseSeconds }) => {
      const span = (high - low) / width;
      if (span < 0.7 || span > 1.5) return false;
      return (
        riseSeconds < p.share * span * usual.riseSeconds &&
        fallSeconds < FALL_SHARE * span * usual.fallSeconds
      );
    });
    if (!isFaster) return 'gone';
    const took = newest.reduce((sum, { riseSeconds }) => sum + riseSeconds, 0) / CYCLES;
    return { evidence: { took_minutes: took / 60, usual_minutes: usual.riseSeconds / 60 } };
  },
});
