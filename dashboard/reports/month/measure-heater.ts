// What a heater did over a span, from the store, with the settings that it is judged by.

import { coldLimit } from '../../../alerts/watch/measures/activity.ts';
import { bucketPlan } from '../../../collector/store/bucket-width.ts';
import { stationLimits, waxClassAt } from '../../../lab/limits.ts';
import type { Station } from '../../../lab/station.ts';
import { holdsMeltedWax } from '../../../lab/station-kinds.ts';
import { doseKinetics } from '../../../wax/heat/heat-dose.ts';
import { celsius, type EpochMillis, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { SettingsInForce } from '../../queries/settings-in-force.ts';
import { stationSeries } from '../../queries/station-series.ts';
import type { MeasuredHeater } from './heat-outside-hours.ts';

const HEATER_STEP_MILLIS = 10 * MILLIS_PER_MINUTE;

/** Judged by the working temperature that held at each instant. */
export const measureHeater = async (
  running: RunningLab,
  station: Station,
  span: { readonly from: EpochMillis; readonly to: EpochMillis },
  settings: SettingsInForce,
): Promise<MeasuredHeater> => {
  const points = Math.ceil((span.to - span.from) / HEATER_STEP_MILLIS) + 1;
  const periods = settings.periodsOf(station.id);
  const present = stationLimits(station, settings.lab);
  const wax = holdsMeltedWax(station.kind) ? waxClassAt(station, settings.lab) : null;
  return {
    station: station.id,
    name: station.name,
    watts: station.heater_watts ?? null,
    buckets: await stationSeries(running, station, { ...span, points }),
    widthMillis: bucketPlan({ ...span, points })?.width ?? 0,
    onFromAt: (at) => {
      const held = periods.findLast(({ from }) => from <= at) ?? periods[0];
      const limits = held?.settings.limits ?? present;
      return limits.windowLow?.value ?? coldLimit(limits);
    },
    wax: wax && { kinetics: doseKinetics(wax), meltsFrom: celsius(wax.melting.low.value) },
  };
};
