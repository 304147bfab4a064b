// A thermostat whose cycle is no longer what it was: it swings further or more slowly.

import { heats } from '../../../../lab/station-kinds.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** Cycles before the usual figures mean anything. */
const FEWEST_LEARNED = 30;

export const thermostatDrift = stationRule({
  kind: 'thermostat-drift',
  priority: 'low',
  detects: 'A thermostat whose median period or swing has left what it learned over weeks.',
  formula:
    'period / usual period or swing / usual swing outside 1/ratio … ratio, and the swing grew by more than the least',
  parameters: {
    ratio: parameter('so many times the usual', 'count', 1.6, [1.1, 5]),
    least_celsius_difference: parameter(
      'a smaller change of the swing is none',
      'celsius_difference',
      1,
      [0.2, 10],
    ),
    on_delay_seconds: onDelay(3600),
    off_delay_seconds: offDelay(3600),
  },
  rationale: 'It drifts over weeks; there is time to plan the repair.',
  consequence: 'The temperature of the wax becomes uncertain, at last it runs away.',
  response: 'Have the thermostat checked; measure with a second thermometer.',
  appliesTo: (station) => heats(station.kind),
  evaluate: ({ thermostat }, p) => {
    if (thermostat === null || thermostat.learned < FEWEST_LEARNED) return 'unknown';
    const { periodSeconds, usualPeriodSeconds, swing, usualSwing } = thermostat;
    const moved = (now: number, usual: number) => now > p.ratio * usual || now < usual / p.ratio;
    const swings = moved(swing, usualSwing) && Math.abs(swing - usualSwing) > p.least_celsius_difference;
    if (!swings && !moved(periodSeconds, usualPeriodSeconds)) return 'gone';
    return {
      evidence: {
        swing_celsius_difference: swing,
        usual_swing_celsius_difference: usualSwing,
        period_minutes: periodSeconds / 60,
        usual_period_minutes: usualPeriodSeconds / 60,
      },
    };
  },
});
