// A place where patterns wait changes fast.

import { stores } from '../../../../lab/station-kinds.ts';
import { extremesBetween, extremesOfLast, hoursOfHistory } from '../../measures/ten-minutes.ts';
import { offDelay, onDelay, parameter } from '../../rule/parameter.ts';
import type { StationInput } from '../../rule/rule-input.ts';
import { stationRule } from '../../rule/rule.ts';
import { emptyPlace } from './empty-place.ts';
import { isFirstMorning, WHOLE_DAY_HOURS } from './first-morning.ts';

/** Where it was within the last day it may be again at any pace: a room that is heated each morning, and aired at noon. */
const USUAL = { hours: 24, youngerHours: 0.75, slackKelvins: 0.3 };
/** A refrigerator turns within the hour; before one has passed its own turns are not known. Engineering estimate. */
const FIRST_HOURS = 1;
function isUsualCourse(input: StationInput): boolean {
  const { celsius, history } = input;
  if (isFirstMorning(input) || hoursOfHistory(history) < FIRST_HOURS) return true;
  const day = extremesBetween(history, USUAL.hours, USUAL.youngerHours);
  if (day === null || hoursOfHistory(history) < WHOLE_DAY_HOURS) return false;
  return celsius > day.low - USUAL.slackKelvins && celsius < day.high + USUAL.slackKelvins;
}

/**
 * The slope of the last minutes goes on falling for a while after an airing is over: what has come back by a sixth of its way
 * has turned.
 */
const TURNED = { hours: 0.5, share: 1 / 6, leastKelvins: 0.5 };
function hasTurned({ celsius, history }: StationInput, celsiusPerHour: number): boolean {
  const lately = extremesOfLast(history, TURNED.hours);
  if (lately === null) return false;
  const back = celsiusPerHour < 0 ? celsius - lately.low : lately.high - celsius;
  return back > Math.max(TURNED.leastKelvins, TURNED.share * (lately.high - lately.low));
}

export const storageRate = stationRule({
  kind: 'storage-rate',
  priority: 'low',
  extremes: ['highest', 'lowest'],
  formula:
    '|dT/dt| > limit, by weighted least squares over about 20 min (three usual periods if that is longer), and T further than 0.3 K beyond the extremes of the last day; not once it has come back by 0.5 K and a sixth of the way of the last 30 min; not in the first hour of its readings; while no working day is known, not from 3 h before opening to 1 h after',
  parameters: {
    limit_celsius_per_hour: parameter('celsius_per_hour', 6, [0.5, 100], 'no-storage-limit'),
    gone_share: parameter('share', 0.5, [0.1, 1]),
    on_delay_seconds: onDelay(600),
    off_delay_seconds: offDelay(1200),
  },
  hiddenBehind: ['door-open', 'storage-swing'],
  suppressedBy: emptyPlace,
  appliesTo: (station) => stores(station.kind),
  evaluate: (input, p) => {
    const { celsiusPerHour, celsius } = input;
    if (celsiusPerHour === null) return 'unknown';
    const rate = Math.abs(celsiusPerHour);
    if (rate <= p.limit_celsius_per_hour)
      return rate <= p.gone_share * p.limit_celsius_per_hour ? 'gone' : 'between';
    if (isUsualCourse(input) || hasTurned(input, celsiusPerHour)) return 'between';
    return { evidence: { rate_celsius_per_hour: celsiusPerHour, value_celsius: celsius } };
  },
  staysQuiet: (_, p, bounds) => bounds.rateBetween(-p.limit_celsius_per_hour, p.limit_celsius_per_hour),
});
