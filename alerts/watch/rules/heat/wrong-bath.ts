// A bath that holds a steady temperature, but not one for the wax in it.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

export const wrongBath = stationRule({
  kind: 'wrong-bath',
  priority: 'medium',
  formula: 'highest − lowest over 20 min < steady, and T outside window by more than r·U',
  parameters: {
    steady_celsius_difference: parameter('celsius_difference', 1.5, [0.2, 10]),
    guard_share: guardBand(1),
    on_delay_seconds: onDelay(120),
    off_delay_seconds: offDelay(900),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over'],
  appliesTo: (station, limits) =>
    STATION_KIND_FACTS[station.kind].window === 'bath' && limits.windowLow !== null,
  evaluate: ({ history, at, celsius, uncertainty, limits, wax, activity, hours, band }, p) => {
    const { windowLow, windowHigh } = limits;
    const lately = extremesOfLast(history, 1 / 3);
    const first = history.closed[0];
    if (windowLow === null || windowHigh === null || wax === null || lately === null) return 'unknown';
    if (!hours.open || activity === null || activity.kind === 'cold') return 'gone';
    // A bath that has kept its window before drifts or is switched off; that is seen elsewhere.
    const usual = band?.usual ?? null;
    if (usual !== null && usual.high >= windowLow.value && usual.low <= windowHigh.value) return 'gone';
    const guard = p.guard_share * uncertainty;
    if (celsius >= windowLow.value - guard && celsius <= windowHigh.value + guard) return 'gone';
    if (first === undefined || at - first.at < 20 * 60_000) return 'unknown';
    if (lately.high - lately.low >= p.steady_celsius_difference) return 'gone';
    return {
      evidence: {
        value_celsius: celsius,
        wax: wax.name,
        low_celsius: windowLow.value,
        high_celsius: windowHigh.value,
      },
    };
  },
});
