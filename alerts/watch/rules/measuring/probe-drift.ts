// The band that a thermostat keeps creeps away while its rhythm stays: the probe drifts, or the thermostat's sensor does.

import { heats } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const FEWEST_CYCLES = 4;

export const probeDrift = stationRule({
  kind: 'probe-drift',
  priority: 'medium',
  detects: 'A heater whose band has crept away from what it was over days, under the same rhythm.',
  formula: '|middle of the newest 4 cycles − middle of the first days| > limit',
  parameters: {
    limit_celsius_difference: parameter('the band may creep by this', 'celsius_difference', 1.2, [0.3, 10]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(3600),
  },
  rationale: 'One of the two sensors is wrong; nothing is hot yet.',
  consequence: 'The pot is worked too cold, or too hot.',
  response: 'Check the probe in ice water or against a reference at the temperature that it works at.',
  hiddenBehind: ['runaway', 'heading-over', 'over-ceiling', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => heats(station.kind),
  evaluate: ({ band, at }, p) => {
    const reference = band?.reference ?? null;
    if (band === null || reference === null) return 'unknown';
    const newest = band.cycles.slice(-FEWEST_CYCLES);
    if (newest.length < FEWEST_CYCLES || at - (newest[0]?.at ?? 0) > 4 * 3_600_000) return 'unknown';
    const middle = newest.reduce((sum, { high, low }) => sum + (high + low) / 2, 0) / newest.length;
    const crept = middle - reference.middle;
    if (Math.abs(crept) <= p.limit_celsius_difference)
      return Math.abs(crept) <= 0.7 * p.limit_celsius_difference ? 'gone' : 'between';
    return { evidence: { value_celsius: middle, usual_celsius: reference.middle } };
  },
});
