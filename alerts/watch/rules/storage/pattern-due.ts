// The predicted error of a waiting pattern will reach its tolerance soon, or it has been standing far beyond its
// standing time.

import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { patternRule } from '../../rule/rule.ts';

const MILLIS_PER_HOUR = 3_600_000;
/** A pattern that was reported as due stays due in spite of an hour of cooler storage. */
const COOLER_HOURS = 2;

export const patternDue = patternRule({
  kind: 'pattern-due',
  priority: 'medium',
  formula:
    'instant of tolerance − now ≤ lead (the earlier of: the storage stays as warm as now, the coming day goes as the last), or now − end of the standing time ≥ standing hours',
  parameters: {
    lead_hours: parameter('hours', 12, [0, 240]),
    standing_hours: parameter('hours', 24, [0, 720]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  evaluate: ({ outlook, at }, p) => {
    const { verdict, station } = outlook;
    const left = verdict.toleranceAt === null ? Infinity : (verdict.toleranceAt - at) / MILLIS_PER_HOUR;
    const standing =
      verdict.standingDueAt === null ? -Infinity : (at - verdict.standingDueAt) / MILLIS_PER_HOUR;
    const isStanding = standing >= p.standing_hours;
    if (left > p.lead_hours + COOLER_HOURS && !isStanding) return 'gone';
    if (left > p.lead_hours && !isStanding) return 'between';
    return {
      evidence: {
        ...verdict.values,
        verdict: verdict.verdict,
        reason: verdict.reason,
        next_step: verdict.nextStep,
        due_by: verdict.dueBy ?? 'tolerance',
        is_overdue: verdict.isOverdue ? 1 : 0,
        due_at: verdict.dueAt ?? at,
        ...(station === null ? {} : { station }),
      },
    };
  },
});
