// The predicted error of a waiting pattern will reach its tolerance soon.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { patternRule } from '../../rule/rule.ts';

export const patternDue = patternRule({
  kind: 'pattern-due',
  priority: 'medium',
  formula:
    'instant of tolerance − now ≤ lead; the earlier of: the storage stays as warm as now, the coming day goes as the last',
  parameters: {
    lead_hours: parameter('raised so long before', 'hours', 12, [0, 240]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  evaluate: ({ outlook, pattern, at }, p) => {
    const due = outlook.toleranceAt;
    // A pattern that was reported as due stays due in spite of an hour of cooler storage.
    if (due === null || due - at > (p.lead_hours + 2) * 3_600_000) return 'gone';
    if (due - at > p.lead_hours * 3_600_000) return 'between';
    return {
      evidence: {
        predicted_micrometres: outlook.predictedMicrometres,
        tolerance_micrometres: pattern.tolerance_micrometres,
        due_at: due,
        ...(outlook.station === null ? {} : { station: outlook.station }),
      },
      worst: outlook.predictedMicrometres / pattern.tolerance_micrometres,
    };
  },
  /** Raised anew for each tenth of the tolerance that goes. */
  updateStep: 0.1,
});
