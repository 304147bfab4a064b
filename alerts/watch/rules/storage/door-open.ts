// A cabinet that leaves its usual temperature within minutes and stays away looks open.

import { STATION_KIND_FACTS, stores } from '../../../../lab/station-kinds.ts';
import { extremesBetween, extremesOfLast } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';

/** A door that was closed again: by more than this it has come back from its furthest. */
const CAME_BACK = { kelvins: 0.4, share: 0.15, hours: 1 / 3 };

export const doorOpen = stationRule({
  kind: 'door-open',
  priority: 'medium',
  extremes: ['highest', 'lowest'],
  formula:
    'T outside [min, max] of the last 6 h (without the newest 30 min) by more than the step, and not on its way back',
  parameters: {
    step_celsius_difference: parameter('celsius_difference', 2, [0.5, 20]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(120),
  },
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind) && STATION_KIND_FACTS[station.kind].hasDoor,
  evaluate: ({ history, celsius }, p, isOn) => {
    const usual = extremesBetween(history, 6, 0.5);
    if (usual === null) return 'unknown';
    const away = Math.max(celsius - usual.high, usual.low - celsius);
    if (away <= p.step_celsius_difference) return away <= p.step_celsius_difference / 2 ? 'gone' : 'between';
    const lately = extremesOfLast(history, CAME_BACK.hours);
    if (!isOn && lately !== null) {
      const furthest = Math.max(lately.high - usual.high, usual.low - lately.low);
      if (away < furthest - Math.max(CAME_BACK.kelvins, CAME_BACK.share * furthest)) return 'gone';
    }
    return { evidence: { value_celsius: celsius, usual_celsius: (usual.low + usual.high) / 2 } };
  },
  staysQuiet: ({ history }, p, bounds) => {
    const usual = extremesBetween(history, 6, 0.5);
    if (usual === null) return true;
    const step = p.step_celsius_difference;
    return bounds.above(usual.low - step) && bounds.below(usual.high + step);
  },
});
