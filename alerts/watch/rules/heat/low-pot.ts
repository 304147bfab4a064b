// A pot that warms up much faster than it used to, or whose rhythm has become faster both ways, holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const FEWEST_LEARNED = 6;
const CYCLES = 3;

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  detects:
    'A pot that reached its window in much less time than usual, or that rises and falls faster than usual under its thermostat.',
  formula:
    'warm-up time < share · usual warm-up time (from three on), or rise and fall of the newest 3 cycles each < share · usual, over a band that is no narrower',
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
    const usualSeconds = usual.riseSeconds + usual.fallSeconds;
    const newest = band.cycles.filter(({ disturbed }) => !disturbed).slice(-CYCLES);
    const isFresh =
      newest.length === CYCLES && at - (newest[0]?.at ?? 0) < Math.max(90 * 60_000, 6 * usualSeconds * 1000);
    if (!isFresh) return 'gone';
    const width = usual.high - usual.low;
    const isFaster = newest.every(
      ({ riseSeconds, fallSeconds, high, low }) =>
        riseSeconds < p.share * usual.riseSeconds &&
        fallSeconds < p.share * usual.fallSeconds &&
        high - low > 0.7 * width,
    );
    if (!isFaster) return 'gone';
    const last = newest.at(-1);
    const took = last === undefined ? 0 : last.riseSeconds + last.fallSeconds;
    return { evidence: { took_minutes: took / 60, usual_minutes: usualSeconds / 60 } };
  },
});
