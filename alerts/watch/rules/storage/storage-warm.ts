// A place is warmer than the wax that lies there may lie.

import { stores } from '../../../../lab/station-kinds.ts';
import { calmestRange, MEANS_HOURS, meanExtremesOfLast } from '../../measures/ten-minutes.ts';
import { deadband, guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { ABOVE_CLASS_LIMIT_KELVINS, aboveClassLimit } from './class-limit.ts';
import { emptyPlace } from './empty-place.ts';

export const storageWarm = stationRule({
  kind: 'storage-warm',
  priority: 'high',
  extremes: ['highest'],
  formula:
    'T, or its ten-minute means and T within its noise, > storage limit + r·U; above the limit of a wax class by the offset',
  parameters: {
    guard_share: guardBand(0),
    offset_celsius_difference: parameter('celsius_difference', ABOVE_CLASS_LIMIT_KELVINS, [-10, 10]),
    deadband_celsius_difference: deadband(0.3),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(600),
  },
  reAlarmMinutes: 480,
  updateStep: 1,
  suppressedBy: emptyPlace,
  appliesTo: (station, limits) => stores(station.kind) && limits.storageMax !== null,
  evaluate: ({ history, limits, celsius: mean, uncertainty, patterns, probes }, p) => {
    // Patterns may lie at the warmest level of a cabinet.
    const celsius = Math.max(mean, ...probes.map((probe) => probe.celsius));
    if (limits.storageMax === null) return 'unknown';
    const offset = aboveClassLimit(limits.storageMax, p.offset_celsius_difference);
    const limit = limits.storageMax.value + offset + p.guard_share * uncertainty;
    const means = meanExtremesOfLast(history, MEANS_HOURS);
    const isByMeans = means !== null && means.low > limit && celsius > limit - calmestRange(history);
    if (celsius <= limit && !isByMeans)
      return celsius <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: {
        value_celsius: celsius,
        limit_celsius: limits.storageMax.value + offset,
        patterns_count: patterns.length,
      },
      worst: celsius,
    };
  },
  staysQuiet: ({ history, limits: { storageMax }, uncertainty }, p, bounds) => {
    if (storageMax === null) return true;
    const offset = aboveClassLimit(storageMax, p.offset_celsius_difference);
    const limit = storageMax.value + offset + p.guard_share * uncertainty;
    return bounds.allBelow(limit - calmestRange(history));
  },
});
