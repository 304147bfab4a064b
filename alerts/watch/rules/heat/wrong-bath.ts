// A bath that holds a steady temperature, but not one for the wax in it.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import type { WaxValue } from '../../../../wax/wax-class.ts';
import type { HeaterBand } from '../../measures/heater-band.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { guardBand, offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

const hasKept = (band: HeaterBand | null, low: WaxValue, high: WaxValue): boolean => {
  const usual = band?.usual ?? null;
  return usual !== null && usual.high >= low.value && usual.low <= high.value;
};

export const wrongBath = stationRule({
  kind: 'wrong-bath',
  priority: 'medium',
  extremes: ['highest', 'lowest'],
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
    if (hasKept(band, windowLow, windowHigh)) return 'gone';
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
  staysQuiet: ({ activity, band, hours, limits, uncertainty }, p, bounds) => {
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null || !hours.open) return true;
    if (activity === null || activity.kind === 'cold' || hasKept(band, windowLow, windowHigh)) return true;
    const guard = p.guard_share * uncertainty;
    return bounds.above(windowLow.value - guard) && bounds.below(windowHigh.value + guard);
  },
});
