// The settings that held over a past span: what was measured then is judged by them and never by today's.

import type { StationPeriod } from '../../lab/database/settings-history.ts';
import type { Lab } from '../../lab/lab.ts';
import { type EpochMillis, epochMillis } from '../../wax/units.ts';
import type { RunningLab } from './running-lab.ts';

export interface SettingsInForce {
  /** The described lab as it was at the end of the span. */
  readonly lab: Lab;
  /** Oldest first; a new one for each change of what the station is judged by. */
  readonly periodsOf: (station: string) => readonly StationPeriod[];
}

export const settingsInForce = (
  { repository }: Pick<RunningLab, 'repository'>,
  from: EpochMillis,
  to: EpochMillis,
): SettingsInForce => {
  const { history } = repository;
  return {
    lab: history.labAt(epochMillis(Math.max(from, to - 1))),
    periodsOf: (station) => history.stationPeriods(station, from, to),
  };
};
