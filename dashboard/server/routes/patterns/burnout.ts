// Was the mould of a pattern held warm enough for long enough? By the readings of its furnace.

import { type BurnoutStep, burnoutCheck } from '../../../../wax/heat/burnout-check.ts';
import { epochMillis, MILLIS_PER_MINUTE } from '../../../../wax/units.ts';
import type { BurnoutProgrammeStep, Pattern } from '../../../../lab/pattern.ts';
import { BurnoutView } from '../../../api/casting.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { stationSeries } from '../../../queries/station-series.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { orStoreAway } from '../common/store-away.ts';
import { requirePattern, PatternId } from './pattern-of-request.ts';

const MOST_POINTS = 5000;
/** A mould that is not burned out after so many days is not looked for any further. */
const MOST_DAYS = 7;

const UNKNOWN = {
  heldMinutes: 0,
  peakCelsius: null,
  steepestCelsiusPerHour: null,
  isTooSteep: false,
  steps: [],
};

const stepOf = ({
  hold_celsius,
  hold_minutes,
  ramp_celsius_per_hour,
}: BurnoutProgrammeStep): BurnoutStep => ({
  holdCelsius: hold_celsius,
  holdMinutes: hold_minutes,
  ...(ramp_celsius_per_hour !== undefined && { rampCelsiusPerHour: ramp_celsius_per_hour }),
});

const checkOf = async (
  running: RunningLab,
  { casting = {}, fate, acts = [] }: Pattern,
): Promise<BurnoutView> => {
  const { furnace, hold_celsius, hold_minutes, ramp_celsius_per_hour, steps_before = [] } = casting;
  const station = running.lab().stations.find(({ id }) => id === furnace);
  if (station === undefined || hold_celsius === undefined || hold_minutes === undefined)
    return { state: 'no-programme', ...UNKNOWN };
  if (fate?.kind !== 'invested') return { state: 'not-invested', ...UNKNOWN };
  const from = Date.parse(fate.at);
  const done = acts.findLast(({ kind }) => kind === 'burned-out')?.at;
  const until = done === undefined ? running.now() : Date.parse(done);
  const to = Math.min(until, from + MOST_DAYS * 24 * 60 * MILLIS_PER_MINUTE);
  if (to <= from) return { state: 'no-readings', ...UNKNOWN };
  const points = Math.min(MOST_POINTS, Math.ceil((to - from) / MILLIS_PER_MINUTE));
  const buckets = await orStoreAway(
    stationSeries(running, station, { from: epochMillis(from), to: epochMillis(to), points }),
  );
  // The coldest of each minute, so that a door that was opened is not averaged away.
  const readings = buckets.map(({ at, min }) => ({ at, celsius: min }));
  const soak = {
    hold_celsius,
    hold_minutes,
    ...(ramp_celsius_per_hour !== undefined && { ramp_celsius_per_hour }),
  };
  const programme = [...steps_before, soak].map(stepOf);
  const { steps, ...check } = burnoutCheck(readings, programme);
  return {
    ...check,
    steps: programme.flatMap(({ holdCelsius, holdMinutes }, index) => {
      const step = steps[index];
      return step === undefined ? [] : [{ holdCelsius, holdMinutes, ...step }];
    }),
  };
};

export const patternBurnout = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/patterns/:id/burnout',
    describeRoute('read', 'patterns', 'Whether the furnace of an invested pattern held its soak', {
      params: PatternId,
      response: { 200: BurnoutView },
    }),
    (request) => checkOf(running, requirePattern(running, request.params.id)),
  );
};
