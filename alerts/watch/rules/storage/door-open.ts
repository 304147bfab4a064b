// A cabinet that leaves its usual temperature within minutes and stays away looks open.

import { STATION_KIND_FACTS, stores } from '../../../../lab/station-kinds.ts';
import { extremesBetween } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';

export const doorOpen = stationRule({
  kind: 'door-open',
  priority: 'medium',
  formula: 'T outside [min, max] of the last 6 h (without the newest 30 min) by more than the step',
  parameters: {
    step_celsius_difference: parameter('celsius_difference', 2, [0.5, 20]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(120),
  },
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind) && STATION_KIND_FACTS[station.kind].hasDoor,
  evaluate: ({ history, celsius }, p) => {
    const usual = extremesBetween(history, 6, 0.5);
    if (usual === null) return 'unknown';
    const away = Math.max(celsius - usual.high, usual.low - celsius);
    if (away <= p.step_celsius_difference) return away <= p.step_celsius_difference / 2 ? 'gone' : 'between';
    return { evidence: { value_celsius: celsius, usual_celsius: (usual.low + usual.high) / 2 } };
  },
  staysQuiet: ({ history }, p, bounds) => {
    const usual = extremesBetween(history, 6, 0.5);
    if (usual === null) return true;
    const step = p.step_celsius_difference;
    return bounds.above(usual.low - step) && bounds.below(usual.high + step);
  },
});
