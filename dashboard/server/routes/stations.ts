// Stations as they stand now.

import { Type } from 'typebox';
import { StationView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import { HttpProblem } from '../base/problem.ts';
import type { RunningLab } from '../../queries/running-lab.ts';
import type { ServerContext } from '../context/server-context.ts';
import type { Station } from '../../../lab/station.ts';
import { stationTrends } from '../views/station-trend.ts';
import { stationView, stationViews } from '../views/station-view.ts';
import { answers } from './answers.ts';

export const StationId = Type.Object({
  id: Type.String({ maxLength: 64, description: 'Id of the station' }),
});

export const knownStation = (running: RunningLab, id: string): Station => {
  const station = running.lab().stations.find((one) => one.id === id);
  if (station === undefined)
    throw new HttpProblem(
      'unknown-station',
      `The lab has no station "${id}"; /api/stations lists those it has.`,
    );
  return station;
};

export const stationRoutes = (app: App, { running }: ServerContext): void => {
  const trend = stationTrends(running);
  app.get(
    '/api/stations',
    {
      config: { needs: 'see-wall' },
      schema: {
        tags: ['measuring'],
        summary: 'Every station and how it stands',
        description:
          'In the order of the lab. `celsius` is the newest value and `at` its instant: after ' +
          '`staleAfterSeconds` it is no longer live and the condition is `no-data`. Limits carry the standing of their source.',
        response: answers(Type.Array(StationView)),
      },
    },
    () => stationViews(running, trend),
  );
  app.get(
    '/api/stations/:id',
    {
      config: { needs: 'see-wall' },
      schema: {
        tags: ['measuring'],
        summary: 'One station and how it stands',
        params: StationId,
        response: answers(StationView),
      },
    },
    (request) => stationView(running, trend, knownStation(running, request.params.id)),
  );
};
