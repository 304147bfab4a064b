// A month in the few figures by which months are compared. Pure.

import type { HeaterMonth, MonthSheet } from '../../../api/month.ts';

export interface MonthFigures {
  readonly month: string;
  /** Mean of the largest swing of each measured night, all places; null where no night was measured. */
  readonly swing_celsius_difference: number | null;
  /** That the wax took while the lab was closed; null where it is of no measured heater known. */
  readonly dose_equivalent_hours: number | null;
  readonly ended: number;
  readonly remade: number;
  /** Null where nothing was measured that could have raised one. */
  readonly alarms: number | null;
  /** Chattering alarms and fleeting ones; null while they are not counted, and where nothing was measured. */
  readonly nuisances: number | null;
}

type Sheet = Pick<MonthSheet, 'month' | 'places' | 'heaters' | 'alarms'>;

export const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const sumOrNull = (values: readonly number[]): number | null => (values.length === 0 ? null : sum(values));

const NUISANCES: readonly string[] = ['chattering', 'fleeting'];

export const isMeasured = ({ closedMinutes, unseenMinutes }: HeaterMonth): boolean =>
  unseenMinutes < closedMinutes;

export const monthFigures = ({ month, places, heaters, alarms }: Sheet): MonthFigures => {
  const swings = places.flatMap(({ nights }) =>
    nights.flatMap((night) => (night.minCelsius === null ? [] : [night.largestSwingCelsius])),
  );
  const measured = heaters.filter(isMeasured);
  const isWatched = swings.length > 0 || measured.length > 0 || alarms.announced > 0;
  return {
    month,
    swing_celsius_difference: swings.length === 0 ? null : sum(swings) / swings.length,
    dose_equivalent_hours: sumOrNull(measured.flatMap(({ doseHours }) => doseHours ?? [])),
    ended: sum(places.map(({ ended }) => ended)),
    remade: sum(places.map(({ remade }) => remade)),
    alarms: isWatched ? alarms.announced : null,
    nuisances: isWatched
      ? sumOrNull(
          alarms.figures.flatMap(({ name, value }) => (NUISANCES.includes(name) ? (value ?? []) : [])),
        )
      : null,
  };
};
