// Two probes at one place that cannot both be right.

import { STATION_KIND_FACTS, stores } from '../../../../lab/station-kinds.ts';
import { apartBy } from '../../measures/apart.ts';
import type { ProbeInput } from '../../rule/rule-input.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { probeRule } from '../../rule/rule.ts';

/** Of three and more the one that parted from the others stands this much further from them than they do. */
const FURTHEST_TIMES = 1.3;

/** Kelvins by which it parted from the others of its place; of two it is the one whose id comes first. */
function partingOf(input: ProbeInput, limit: number): number {
  const { apart, probe, twins } = input;
  const parted = apart === null || twins.length === 0 ? 0 : Math.abs(apartBy(apart, limit));
  if (parted === 0) return 0;
  const [twin, ...more] = twins;
  if (twin !== undefined && more.length === 0) return twin.id > probe ? parted : 0;
  const others = input.apartOfTwins().map(({ lately, usual }) => Math.abs(lately - usual));
  return parted >= FURTHEST_TIMES * Math.max(...others) ? parted : 0;
}

export const probeDisagrees = probeRule({
  kind: 'probe-disagrees',
  on: 'reading',
  priority: 'low',
  formula:
    '|T − T twin| > limit + √(U² + U twin²); raised once for a pair, at the probe whose id comes first; or at a place, |T − mean of the others| of the last 10 min further from its usual value than parting and 4 times its usual distance from it, after half a day, less what it is usually apart as its place moves within 2 h, while the others are within 0.3 K of their last 10 min; of three or more at the one that is furthest',
  parameters: {
    limit_celsius_difference: parameter('celsius_difference', 2, [0.2, 20]),
    parting_celsius_difference: parameter('celsius_difference', 0.7, [0.2, 20]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(900),
    off_delay_seconds: offDelay(300),
  },
  // Layers of wax part as they melt.
  figuresOnlyAt: { parting_celsius_difference: stores },
  // In an annealer two places may differ; a rule of its own looks at that.
  appliesTo: ({ kind }) => !STATION_KIND_FACTS[kind].comparesZones,
  evaluate: (input, p) => {
    const { probe, celsius, uncertainty, twins, station } = input;
    const where = station ? { station: station.id } : {};
    const parted = partingOf(input, p.parting_celsius_difference);
    if (parted > 0) return { evidence: { how: 'parted', spread_celsius_difference: parted, ...where } };
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
      evidence: { how: 'differing', spread_celsius_difference: worst.spread, twin: worst.id, ...where },
    };
  },
  staysQuiet: ({ isAlone }) => isAlone,
});
