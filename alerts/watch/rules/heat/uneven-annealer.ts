// Two places in one softening cabinet that do not agree: the wax softens unevenly.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { deadband, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const unevenAnnealer = stationRule({
  kind: 'uneven-annealer',
  priority: 'medium',
  detects: 'An annealer whose hottest and coldest probe differ by more than their uncertainties can explain.',
  formula: 'T hottest − T coldest > limit + √(U₁² + U₂²)',
  parameters: {
    limit_celsius_difference: parameter('they may differ by this', 'celsius_difference', 3, [0.5, 20]),
    deadband_celsius_difference: deadband(0.5),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(300),
  },
  rationale: 'The pieces in it are spoiled, nothing else.',
  consequence: 'Strains that bend the pattern later.',
  response: 'Check fan, door and loading; wait until it is even.',
  appliesTo: (station) => STATION_KIND_FACTS[station.kind].comparesZones,
  evaluate: ({ probes, activity }, p) => {
    if (probes.length < 2) return 'unknown';
    if (activity === null || activity.kind === 'cold') return 'gone';
    const byHeat = [...probes].sort((a, b) => b.celsius - a.celsius);
    const [hottest, coldest] = [byHeat[0], byHeat.at(-1)];
    if (hottest === undefined || coldest === undefined) return 'unknown';
    const spread = hottest.celsius - coldest.celsius;
    const limit = p.limit_celsius_difference + Math.hypot(hottest.uncertainty, coldest.uncertainty);
    if (spread <= limit) return spread <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
    return {
      evidence: { spread_celsius_difference: spread, hottest: hottest.id, coldest: coldest.id },
      worst: spread,
    };
  },
  updateStep: 2,
});
