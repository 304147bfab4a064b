// A pot that warms up much faster than it used to holds little wax.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const lowPot = stationRule({
  kind: 'low-pot',
  priority: 'medium',
  detects: 'A pot that reached its window in much less time than its usual warm-up.',
  formula: 'warm-up time < share · usual warm-up time (running mean of the earlier ones, from three on)',
  parameters: {
    share: parameter('of the usual warm-up time', 'share', 0.6, [0.2, 0.95]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  rationale: 'A dry pot overheats its rest of wax and its heater.',
  consequence: 'The rest of the wax ages fast; a dry heater can scorch.',
  response: 'Look at the level and top it up with the same wax.',
  appliesTo: (station, limits) => holdsMeltedWax(station.kind) && limits.windowLow !== null,
  evaluate: ({ warmUp, activity }, p) => {
    if (warmUp === null || warmUp.learned < 3 || activity?.kind === 'warming') return 'unknown';
    if (warmUp.seconds >= p.share * warmUp.usualSeconds) return 'gone';
    return {
      evidence: { took_minutes: warmUp.seconds / 60, usual_minutes: warmUp.usualSeconds / 60 },
    };
  },
});
