// Before a long closure: patterns that will not keep their tolerance until the lab opens again.

import { stores } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const patternWeekend = stationRule({
  kind: 'pattern-weekend',
  priority: 'medium',
  extremes: [],
  formula: 'closure ≥ least hours, and instant of tolerance < next opening',
  parameters: {
    least_hours: parameter('hours', 36, [8, 400]),
    before_hours: parameter('hours', 3, [0.5, 12]),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ at, hours, nextClosure, patterns }, p) => {
    const closure = hours.open ? nextClosure : hours;
    if (closure === null || closure.from === null || closure.to === null || patterns.length === 0)
      return 'gone';
    if (closure.to - closure.from < p.least_hours * 3_600_000) return 'gone';
    if (at < closure.from - p.before_hours * 3_600_000) return 'gone';
    const opens = closure.to;
    const running = patterns.filter(
      ({ verdict }) => verdict.toleranceAt !== null && verdict.toleranceAt < opens,
    );
    const first = running[0];
    if (first === undefined) return 'gone';
    return {
      evidence: {
        patterns_count: running.length,
        pattern: first.pattern,
        due_at: Math.min(...running.map(({ verdict }) => verdict.toleranceAt ?? opens)),
        opens_at: opens,
      },
      worst: running.length,
    };
  },
  updateStep: 1,
  staysQuiet: ({ patterns }) => patterns.length === 0,
});
