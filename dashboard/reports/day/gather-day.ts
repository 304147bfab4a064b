// What one day of the lab came to, for the group that it reports to: storage, heaters and alarms in figures that can be
// compared between labs of any size.

import { alarmQuality } from '../../../alerts/watch/quality/alarm-quality.ts';
import type { DayFigures } from '../../../lab/group/group-message.ts';
import type { Station } from '../../../lab/station.ts';
import { heats, stores } from '../../../lab/station-kinds.ts';
import { type EpochMillis, epochMillis, MILLIS_PER_DAY, MILLIS_PER_MINUTE } from '../../../wax/units.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import { type SettingsInForce, settingsInForce } from '../../queries/settings-in-force.ts';
import { heatOutsideHours } from '../month/heat-outside-hours.ts';
import { measureHeater } from '../month/measure-heater.ts';
import { stationNight } from '../night/gather-night.ts';
import { heatFigures } from '../night/heat-figures.ts';

interface Span {
  readonly from: EpochMillis;
  readonly to: EpochMillis;
}

const MOST_CHANGES = 100_000;
/** Reads some time before the day as well, so that the state at its start is known. */
const BEFORE_MILLIS = 2 * MILLIS_PER_DAY;

const placeDay = async (
  running: RunningLab,
  station: Station,
  span: Span,
  settings: SettingsInForce,
): Promise<DayFigures['places'][number]> => {
  const measured = await stationNight(running, station, span, settings);
  const figures = heatFigures({ ...measured, ...span }, measured.storageMaxAt);
  return {
    station: station.id,
    measured_minutes: (span.to - span.from) / MILLIS_PER_MINUTE - figures.gapMinutes,
    outside_minutes: figures.minutesOutOfBand,
    largest_swing_celsius: figures.largestSwingCelsius,
  };
};

const heaterDay = async (
  running: RunningLab,
  station: Station,
  span: Span,
  settings: SettingsInForce,
): Promise<DayFigures['heaters'][number]> => {
  const heater = await measureHeater(running, station, span, settings);
  const { onMinutes, unseenMinutes, closedMinutes, doseHours } = heatOutsideHours(heater, [span]);
  return {
    station: station.id,
    measured_minutes: closedMinutes - unseenMinutes,
    hot_minutes: onMinutes,
    dose_hours: doseHours,
  };
};

/** @throws StoreAway while readings cannot be read */
export const gatherDay = async (
  running: RunningLab,
  from: EpochMillis,
  to: EpochMillis,
): Promise<DayFigures> => {
  const span = { from, to };
  const settings = settingsInForce(running, from, to);
  const { stations, site } = settings.lab;
  const places: DayFigures['places'][number][] = [];
  const heaters: DayFigures['heaters'][number][] = [];
  // One after the other: the readers of the wall are not held up.
  for (const station of stations) {
    if (stores(station.kind)) places.push(await placeDay(running, station, span, settings));
    if (heats(station.kind)) heaters.push(await heaterDay(running, station, span, settings));
  }
  const quality = alarmQuality({
    from,
    to,
    site,
    changes: running.alarmChangesBetween(epochMillis(from - BEFORE_MILLIS), to, MOST_CHANGES),
    open: running.openAlarms(),
  });
  const figure = (name: 'chattering' | 'fleeting'): number =>
    quality.figures.find((listed) => listed.name === name)?.value ?? 0;
  return {
    places,
    heaters,
    stations: stations.length,
    alarms: { announced: quality.announced, nuisance: figure('chattering') + figure('fleeting') },
  };
};
