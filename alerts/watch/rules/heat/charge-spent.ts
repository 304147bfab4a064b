// A charge that has used up its allowance, as far as the uncertainty of its probe lets that be known.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { DOSE_FORMULA, doseLimit, doseStaysBelow, doseUncertainty, evaluateDose } from './dose-rule.ts';

export const chargeSpent = stationRule({
  kind: 'charge-spent',
  priority: 'medium',
  extremes: [],
  formula: `${DOSE_FORMULA}; limit / (1 + U · E / (R · Tref²)), U that of the probe, at most a tenth off`,
  parameters: { limit_share: doseLimit(1), on_delay_seconds: onDelay(0), off_delay_seconds: offDelay(0) },
  updateStep: 0.25,
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: (input, p) => evaluateDose(input, p.limit_share / (1 + doseUncertainty(input))),
  staysQuiet: (input, p, bounds) =>
    doseStaysBelow(input, p.limit_share / (1 + doseUncertainty(input)), bounds),
});
