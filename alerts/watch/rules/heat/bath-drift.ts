// A bath at work that leaves its window, or creeps towards its edge.

import { STATION_KIND_FACTS } from '../../../../lab/station-kinds.ts';
import { extremesBetween } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import { stationRule } from '../../rule/rule.ts';
import { SOFTENERS_CLOSING } from './no-heat.ts';

/** Faster than this it is switched off, or warming up, °C an hour. */
const MOVING_RATE = 5;
const COOLING_RATE = 2.5;
const SETTLED_MILLIS = 40 * 60_000;
/** A trend means something only when what it starts from is settled too. */
const TREND_MILLIS = 90 * 60_000;

export const bathDrift = stationRule({
  kind: 'bath-drift',
  priority: 'medium',
  fewestSamples: 2,
  formula:
    'open, settled for 20 min, and T outside the window, or mean + horizon · (mean − mean 30 min ago) / 30 min beyond its edge',
  parameters: {
    horizon_minutes: parameter('announced when the edge is nearer than this', 'minutes', 12, [0, 60]),
    closing_minutes: parameter(
      'so shortly before closing it is taken for switched off',
      'minutes',
      45,
      [0, 240],
    ),
    on_delay_seconds: onDelay(60),
    off_delay_seconds: offDelay(300),
  },
  hiddenBehind: ['fire-risk', 'over-ceiling', 'heading-over', 'no-heat', 'probe-out'],
  appliesTo: (station, limits) =>
    STATION_KIND_FACTS[station.kind].window === 'bath' && limits.windowLow !== null,
  evaluate: (
    { activity, at, celsius, celsiusPerHour, disturbedAt, history, hours, limits, plannedOff, recent },
    p,
  ) => {
    const { windowLow, windowHigh } = limits;
    if (windowLow === null || windowHigh === null || recent === null) return 'unknown';
    if (!hours.open || plannedOff || activity?.kind !== 'hot' || at - activity.since < SETTLED_MILLIS)
      return 'gone';
    if (hours.to !== null && hours.to - at < SOFTENERS_CLOSING * p.closing_minutes * 60_000) return 'gone';
    // After a pause it is warmed up again.
    if (hours.from !== null && at - hours.from < SETTLED_MILLIS) return 'gone';
    if (at - disturbedAt < 5 * 60_000) return 'between';
    const evidence = {
      evidence: { value_celsius: celsius, low_celsius: windowLow.value, high_celsius: windowHigh.value },
    };
    const rate = celsiusPerHour ?? 0;
    const isMoving = rate > MOVING_RATE || rate < -COOLING_RATE;
    if (celsius < windowLow.value || celsius > windowHigh.value) return isMoving ? 'between' : evidence;
    const earlier = extremesBetween(history, 0.67, 0.33);
    if (earlier === null || at - activity.since < TREND_MILLIS) return 'gone';
    const perMinute = (recent.mean - (earlier.high + earlier.low) / 2) / 30;
    const ahead = recent.mean + p.horizon_minutes * perMinute;
    const isNear = Math.abs(perMinute) > 0.01 && (ahead < windowLow.value || ahead > windowHigh.value);
    return isNear ? evidence : 'gone';
  },
});
