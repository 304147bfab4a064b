// A place is colder than what lies there may lie.

import { stores } from '../../../../lab/station-kinds.ts';
import { calmestRange, MEANS_HOURS, meanExtremesOfLast } from '../../measures/ten-minutes.ts';
import { deadband, offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';

export const storageCold = stationRule({
  kind: 'storage-cold',
  priority: 'high',
  extremes: ['lowest'],
  formula: 'T, or its ten-minute means and T within its noise, < window low',
  parameters: {
    deadband_celsius_difference: deadband(0.3),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(600),
  },
  reAlarmMinutes: 480,
  updateStep: 1,
  hiddenBehind: ['door-open'],
  suppressedBy: emptyPlace,
  appliesTo: (station, limits) => stores(station.kind) && limits.windowLow !== null,
  evaluate: ({ celsius: mean, history, limits, patterns, probes }, p) => {
    // Patterns may lie at the coldest level of a cabinet.
    const celsius = Math.min(mean, ...probes.map((probe) => probe.celsius));
    if (limits.windowLow === null) return 'unknown';
    const limit = limits.windowLow.value;
    // With noise about a limit that its means have passed, single readings lie on either side of it.
    const means = meanExtremesOfLast(history, MEANS_HOURS);
    const isByMeans = means !== null && means.high < limit && celsius < limit + calmestRange(history);
    if (celsius >= limit && !isByMeans)
      return celsius >= limit + p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: { value_celsius: celsius, limit_celsius: limit, patterns_count: patterns.length },
      worst: -celsius,
    };
  },
  staysQuiet: ({ history, limits }, _, bounds) =>
    limits.windowLow === null || bounds.allAbove(limits.windowLow.value + calmestRange(history)),
});
