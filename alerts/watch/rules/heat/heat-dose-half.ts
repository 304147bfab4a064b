// A charge that has used half of its allowance.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { DOSE_FORMULA, doseLimit, doseStaysBelow, evaluateDose } from './dose-rule.ts';

export const heatDoseHalf = stationRule({
  kind: 'heat-dose-half',
  priority: 'notice',
  extremes: [],
  formula: DOSE_FORMULA,
  parameters: { limit_share: doseLimit(0.5), on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: (input, p) => evaluateDose(input, p.limit_share),
  staysQuiet: (input, p, bounds) => doseStaysBelow(input, p.limit_share, bounds),
});
