// A place where patterns wait changes fast.

import { stores } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';

export const storageRate = stationRule({
  kind: 'storage-rate',
  priority: 'low',
  formula:
    '|dT/dt| > limit, by weighted least squares over about 20 min (three usual periods if that is longer)',
  parameters: {
    limit_celsius_per_hour: parameter('celsius_per_hour', 6, [0.5, 100], 'no-storage-limit'),
    gone_share: parameter('share', 0.5, [0.1, 1]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(1200),
  },
  hiddenBehind: ['door-open', 'storage-swing'],
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind),
  evaluate: ({ celsiusPerHour, celsius }, p) => {
    if (celsiusPerHour === null) return 'unknown';
    const rate = Math.abs(celsiusPerHour);
    if (rate <= p.limit_celsius_per_hour)
      return rate <= p.gone_share * p.limit_celsius_per_hour ? 'gone' : 'between';
    return { evidence: { rate_celsius_per_hour: celsiusPerHour, value_celsius: celsius } };
  },
  staysQuiet: (_, p, bounds) => bounds.rateBetween(-p.limit_celsius_per_hour, p.limit_celsius_per_hour),
});
