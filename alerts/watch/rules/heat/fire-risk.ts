// Far above any wax's ceiling: first switch off, then smoke, then flame.

import { heats } from '../../../../lab/station-kinds.ts';
import { deadband, guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** Lowest flash point quoted for paraffin, °C: general reference pages; beeswax about 204 °C. */
const FLASH_POINT_CELSIUS = 199;

export const fireRisk = stationRule({
  kind: 'fire-risk',
  priority: 'urgent',
  extremes: ['highest'],
  latches: true,
  fewestSamples: 2,
  mayBeSwitchedOff: false,
  formula: `T > limit − r·U; from smoking_celsius on it smokes; from ${FLASH_POINT_CELSIUS} °C on its vapour may catch fire`,
  parameters: {
    limit_celsius: parameter('celsius', 150, [105, 170], 'alarm-ladder'),
    smoking_celsius: parameter('celsius', 175, [150, 190], 'below-smyd'),
    on_delay_seconds: onDelay(0, 'two-samples', 60),
    off_delay_seconds: offDelay(120),
    deadband_celsius_difference: deadband(3),
    guard_share: guardBand(1),
  },
  reAlarmMinutes: 10,
  updateStep: 5,
  appliesTo: (station) => heats(station.kind),
  evaluate: ({ celsius, uncertainty }, p) => {
    const limit = p.limit_celsius - p.guard_share * uncertainty;
    if (celsius > limit)
      return {
        evidence: {
          value_celsius: celsius,
          limit_celsius: p.limit_celsius,
          smoking_celsius: p.smoking_celsius,
          flash_celsius: FLASH_POINT_CELSIUS,
          uncertainty_celsius_difference: uncertainty,
          step:
            celsius >= FLASH_POINT_CELSIUS
              ? 'flash-point'
              : celsius >= p.smoking_celsius
                ? 'smoking'
                : 'switch-off',
        },
        worst: celsius,
      };
    return celsius <= limit - p.deadband_celsius_difference ? 'gone' : 'between';
  },
  staysQuiet: ({ uncertainty }, p, bounds) => bounds.below(p.limit_celsius - p.guard_share * uncertainty),
});
