// The month as a table for spreadsheets: one line for each night of a place, each heater while the lab was closed, and each
// remake. Degrees Celsius, hours and kilowatt hours; a figure that nobody measured is an empty cell.

import type { CsvSeparators } from '../../api/csv-separators.ts';
import type { HeaterMonth, MonthSheet } from '../../api/month.ts';
import { csv, roundToThousandth } from '../night/sheet-csv.ts';

const COLUMNS = [
  'night',
  'what',
  'place',
  'name',
  'verdict',
  'min_celsius',
  'max_celsius',
  'mean_kinetic_celsius',
  'swings',
  'largest_swing_celsius',
  'out_of_band_minutes',
  'gap_minutes',
  'closed_hours',
  'on_hours',
  'not_measured_hours',
  'energy_kilowatt_hours',
  'dose_equivalent_hours',
  'avoided_dose_equivalent_hours',
  'at',
  'by',
  'reason',
] as const;
type Row = Partial<Record<(typeof COLUMNS)[number], string | number | null>>;

const MINUTES_PER_HOUR = 60;
const heaterRow = (heater: HeaterMonth): Row => {
  const isMeasured = heater.unseenMinutes < heater.closedMinutes;
  return {
    what: 'heater',
    place: heater.station,
    name: heater.name,
    closed_hours: roundToThousandth(heater.closedMinutes / MINUTES_PER_HOUR),
    not_measured_hours: roundToThousandth(heater.unseenMinutes / MINUTES_PER_HOUR),
    ...(isMeasured && {
      on_hours: roundToThousandth(heater.onMinutes / MINUTES_PER_HOUR),
      energy_kilowatt_hours: roundToThousandth(heater.kilowattHours),
      dose_equivalent_hours: roundToThousandth(heater.doseHours),
      avoided_dose_equivalent_hours: roundToThousandth(heater.sparedDoseHours),
    }),
  };
};

export const monthCsv = ({ places, heaters, remakes }: MonthSheet, separators: CsvSeparators): string => {
  const rows: readonly Row[] = [
    ...places.flatMap(({ station, name, nights }) =>
      nights.map(
        (night): Row => ({
          night: night.date,
          what: 'night',
          place: station,
          name,
          verdict: night.verdict,
          min_celsius: night.minCelsius,
          max_celsius: night.maxCelsius,
          mean_kinetic_celsius: night.meanKineticCelsius,
          swings: night.swings,
          largest_swing_celsius: night.largestSwingCelsius,
          out_of_band_minutes: night.minutesOutOfBand,
          gap_minutes: night.gapMinutes,
        }),
      ),
    ),
    ...heaters.map(heaterRow),
    ...remakes.map(
      ({ id, stationName, at, by, reason }): Row => ({
        what: 'remake',
        place: stationName,
        name: id,
        at,
        by,
        reason,
      }),
    ),
  ];
  return csv(COLUMNS, rows, separators);
};
