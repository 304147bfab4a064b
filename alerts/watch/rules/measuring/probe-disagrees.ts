// Two probes at one place that cannot both be right.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

export const probeDisagrees = probeRule({
  kind: 'probe-disagrees',
  on: 'reading',
  priority: 'low',
  formula:
    '|T − T twin| > limit + √(U² + U twin²); raised once for a pair, at the probe whose id comes first',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 2, [0.2, 20]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(900),
    off_delay_seconds: offDelay(300),
  },
  // In an annealer two places may differ; a rule of its own looks at that.
  appliesTo: ({ kind }) => !STATION_KIND_FACTS[kind].comparesZones,
  evaluate: ({ probe, celsius, uncertainty, twins, station }, p) => {
    let worst: { id: string; spread: number; limit: number } | null = null;
    for (const twin of twins) {
      if (twin.id < probe) continue;
      const spread = Math.abs(celsius - twin.celsius);
      const limit = p.limit_celsius_difference + Math.hypot(uncertainty, twin.uncertainty);
      if (worst === null || spread - limit > worst.spread - worst.limit)
        worst = { id: twin.id, spread, limit };
    }
    if (worst === null) return 'gone';
    if (worst.spread <= worst.limit)
      return worst.spread <= worst.limit - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: {
        spread_celsius_difference: worst.spread,
        twin: worst.id,
        ...(station ? { station: station.id } : {}),
      },
    };
  },
  staysQuiet: ({ isAlone }) => isAlone,
});
