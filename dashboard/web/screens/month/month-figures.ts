// A month in the few figures by which months are compared. Pure.

import type { MonthSheet } from '../../../api/month.ts';

export interface MonthFigures {
  readonly month: string;
  /** Mean of the largest swing of each measured night, all places; null where no night was measured. */
  readonly swing_celsius_difference: number | null;
  /** That the wax took while the lab was closed; null where it is of no heater known. */
  readonly dose_equivalent_hours: number | null;
  readonly ended: number;
  readonly remade: number;
  readonly alarms: number;
  /** Chattering alarms and fleeting ones; null while they are not counted. */
  readonly nuisances: number | null;
}

type Sheet = Pick<MonthSheet, 'month' | 'places' | 'heaters' | 'alarms'>;

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
const sumOrNull = (values: readonly number[]): number | null => (values.length === 0 ? null : sum(values));

const NUISANCES: readonly string[] = ['chattering', 'fleeting'];

export const monthFigures = ({ month, places, heaters, alarms }: Sheet): MonthFigures => {
  const swings = places.flatMap(({ nights }) =>
    nights.flatMap((night) => (night.minCelsius === null ? [] : [night.largestSwingCelsius])),
  );
  return {
    month,
    swing_celsius_difference: swings.length === 0 ? null : sum(swings) / swings.length,
    dose_equivalent_hours: sumOrNull(heaters.flatMap(({ doseHours }) => doseHours ?? [])),
    ended: sum(places.map(({ ended }) => ended)),
    remade: sum(places.map(({ remade }) => remade)),
    alarms: alarms.announced,
    nuisances: sumOrNull(
      alarms.figures.flatMap(({ name, value }) => (NUISANCES.includes(name) ? (value ?? []) : [])),
    ),
  };
};
