// The station that a request is about.

import { Type } from 'typebox';
import type { Station } from '../../../../lab/station.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { HttpProblem } from '../../base/problem.ts';

export const StationId = Type.Object({
  id: Type.String({ maxLength: 64, description: 'Id of the station' }),
});

export const requireStation = (running: RunningLab, id: string): Station => {
  const station = running.lab().stations.find((each) => each.id === id);
  if (station === undefined) throw new HttpProblem('unknown-station', { values: { id } });
  return station;
};
