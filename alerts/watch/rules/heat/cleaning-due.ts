// Hours of heat since the pot was cleaned. It comes round every other week, so it is shown on the screens and on the night
// sheet and calls nobody's phone.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const cleaningDue = stationRule({
  kind: 'cleaning-due',
  priority: 'low',
  extremes: [],
  formula: 'hours above the melting range since cleaning ≥ limit',
  parameters: {
    limit_hours: parameter('hours', 80, [1, 5000], 'two-working-weeks'),
    on_delay_seconds: onDelay(0),
    off_delay_seconds: offDelay(0),
  },
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: ({ hotHoursSinceCleaned: hours }, p) =>
    hours < p.limit_hours
      ? 'gone'
      : { evidence: { hot_hours: hours, limit_hours: p.limit_hours, urgency: 'note' } },
  staysQuiet: (_, p, bounds) => bounds.hotBelow(p.limit_hours),
});
