// A thermostat whose rhythm is no longer what it was: ragged or flat, as a contact that bounces makes it.

import { holdsMeltedWax } from '../../../../lab/station-kinds.ts';
import { earlyTurnsAt, type HeatCycle, turnsAt } from '../../measures/heater-band.ts';
import { extremesOfLast } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';

/** Cycles before the usual figures mean anything. */
const FEWEST_LEARNED = 6;
const SETTLED_MILLIS = 45 * 60_000;
/** A band narrower than this has no rhythm to lose. */
const LEAST_BAND = 0.8;

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? 0;
const periodOf = ({ riseSeconds, fallSeconds }: HeatCycle): number => riseSeconds + fallSeconds;

export const thermostatDrift = stationRule({
  kind: 'thermostat-drift',
  priority: 'medium',
  detects: 'A thermostat that turns much more often than usual, or whose band has become much narrower.',
  formula:
    'median period of the newest 5 cycles < usual period / ratio; or range of 20 min or 1.5 usual periods < usual band / ratio by more than the least, inside the usual band',
  parameters: {
    ratio: parameter('so many times the usual', 'count', 1.8, [1.1, 5]),
    early_count: parameter('turns below its usual top within half an hour', 'count', 2.5, [1, 20]),
    least_celsius_difference: parameter(
      'a smaller change of the band is none',
      'celsius_difference',
      0.7,
      [0.2, 10],
    ),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(3600),
  },
  rationale: 'It wears out over days; there is time to plan the repair.',
  consequence: 'The temperature of the wax becomes uncertain, at last it runs away.',
  response: 'Have the thermostat checked; measure with a second thermometer.',
  hiddenBehind: ['fire-risk', 'over-ceiling', 'runaway', 'no-heat', 'heater-weak', 'low-pot', 'probe-out'],
  appliesTo: (station) => holdsMeltedWax(station.kind),
  evaluate: ({ activity, at, band, celsius, disturbedAt, history, hours }, p) => {
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
    const early = earlyTurnsAt(band, at);
    if (early >= p.early_count) return evidence(usual.high - usual.low, usualPeriod);
    if (at - disturbedAt < 2 * usualPeriod * 1000) return early >= 1 ? 'between' : 'unknown';
    const newest = band.cycles.slice(-5).filter((cycle) => at - cycle.at < 10 * usualPeriod * 1000);
    const lately = extremesOfLast(history, Math.max(1 / 3, (1.5 * usualPeriod) / 3600));
    if (lately === null) return 'unknown';
    const range = lately.high - lately.low;
    const isInside = celsius > usual.low - 1 && celsius < usual.high + 1;
    const turnsAnHour = turnsAt(band, at);
    if (isInside && range < width / p.ratio && width - range > p.least_celsius_difference)
      return evidence(range, 7200 / Math.max(1, turnsAnHour));
    if (newest.length < 4) return 'gone';
    const period = median(newest.map(periodOf));
    const swing = median(newest.map(({ high, low }) => high - low));
    const isFast = period < usualPeriod / p.ratio;
    return isFast ? evidence(swing, period) : 'gone';
  },
});
