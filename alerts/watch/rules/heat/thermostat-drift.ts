// A thermostat whose rhythm is no longer what it was: ragged or flat, as a contact that bounces makes it.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { oddTurnsAt, type HeatCycle } from '../../measures/heater-band.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** Cycles before the usual figures mean anything. */
const FEWEST_LEARNED = 6;
/** What people do at the pot moves its turns for so long. */
const DISTURBED_MILLIS = 45 * 60_000;
const SETTLED_MILLIS = 45 * 60_000;
/** A band narrower than this has no rhythm to lose. */
const LEAST_BAND = 1.5;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const periodOf = ({ riseSeconds, fallSeconds }: HeatCycle): number => riseSeconds + fallSeconds;

export const thermostatDrift = stationRule({
  kind: 'thermostat-drift',
  priority: 'medium',
  formula:
    'turns away from the usual top within the hour, nobody at work there, ≥ count; or median period of the newest 5 cycles < usual period / ratio',
  parameters: {
    ratio: parameter('so many times the usual', 'count', 1.8, [1.1, 5]),
    odd_count: parameter('turns away from its usual top within the hour', 'count', 3.5, [1, 20]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(3600),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'runaway', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: ({ activity, at, band, disturbedAt, hours }, p) => {
    const usual = band?.usual ?? null;
    if (band === null || usual === null || usual.learned < FEWEST_LEARNED || usual.riseSeconds === 0)
      return 'unknown';
    if (activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS || !hours.open) return 'unknown';
    const width = usual.high - usual.low;
    const usualPeriod = usual.riseSeconds + usual.fallSeconds;
    if (width < LEAST_BAND) return 'unknown';
    const evidence = (swing: number, period: number) => ({
      evidence: {
        swing_celsius_difference: swing,
        usual_swing_celsius_difference: width,
        period_minutes: period / 60,
        usual_period_minutes: usualPeriod / 60,
      },
    });
    const odd = oddTurnsAt(band, at);
    const isAtWork = at - disturbedAt < DISTURBED_MILLIS;
    if (odd >= p.odd_count && !isAtWork) return evidence(usual.high - usual.low, usualPeriod);
    if (at - disturbedAt < 2 * usualPeriod * 1000) return odd >= 1 ? 'between' : 'unknown';
    const newest = band.cycles.slice(-5).filter((cycle) => at - cycle.at < 10 * usualPeriod * 1000);
    if (newest.length < 4) return 'gone';
    const period = median(newest.map(periodOf));
    const swing = median(newest.map(({ high, low }) => high - low));
    const isFast = period < usualPeriod / p.ratio && swing > width / 2;
    return isFast ? evidence(swing, period) : 'gone';
  },
});
