// Stations in their present state.

import { Type } from 'typebox';
import { StationView } from '../../api/schemas.ts';
import type { App } from '../base/app.ts';
import type { ServerContext } from '../context/server-context.ts';
import { stationTrends } from '../views/station-trend.ts';
import { stationView, stationViews } from '../views/station-view.ts';
import { describeRoute } from './common/describe-route.ts';
import { requireStation, StationId } from './common/station-of-request.ts';

export const stationRoutes = (app: App, { running }: ServerContext): void => {
  const trend = stationTrends(running);
  app.get(
    '/api/stations',
    describeRoute('see-wall', 'measuring', 'Every station and its status', {
      description:
        'In the order of the lab. `celsius` is the newest value and `at` its instant: after ' +
        '`staleAfterSeconds` it is no longer live and the condition is `no-data`. Limits carry the standing of their source.',
      response: { 200: Type.Array(StationView) },
    }),
    () => stationViews(running, trend),
  );
  app.get(
    '/api/stations/:id',
    describeRoute('see-wall', 'measuring', 'One station and its status', {
      params: StationId,
      response: { 200: StationView },
    }),
    (request) => stationView(running, trend, requireStation(running, request.params.id)),
  );
};
