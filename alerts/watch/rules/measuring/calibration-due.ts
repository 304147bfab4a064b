// The day is near, or past, on which a probe should be checked.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const calibrationDue = probeRule({
  kind: 'calibration-due',
  on: 'passing-time',
  priority: 'low',
  formula: 'calibration due − now ≤ lead',
  parameters: {
    lead_days: parameter('days', 7, [0, 90]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  evaluate: ({ calibrationDue, at, station }, p) => {
    const dueAt = calibrationDue === null ? Number.NaN : Date.parse(calibrationDue);
    // An unreadable date is no date; the lab file refuses it.
    if (!(dueAt - at <= p.lead_days * 86_400_000)) return 'gone';
    return { evidence: { due_at: dueAt, ...(station ? { station: station.id } : {}) } };
  },
  quietUntil: ({ calibrationDue }, p) => {
    const dueAt = calibrationDue === null ? Number.NaN : Date.parse(calibrationDue);
    return Number.isNaN(dueAt) ? Number.POSITIVE_INFINITY : dueAt - p.lead_days * 86_400_000;
  },
});
