// Loads of an annealer, and heaters that are off or on on purpose: acts that change no record but the journal.

import { LoadInBody, NothingBody } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireStation, StationId } from '../common/station-of-request.ts';
import { performAtStation } from './pot.ts';

const PLAIN_ACTS = {
  'load-out': 'Record that the load was taken out',
  'planned-off': 'Record that the heater is off on purpose',
  'planned-on': 'Record that the heater stays on on purpose, outside working hours',
} as const;
type PlainAct = keyof typeof PLAIN_ACTS;

const plainAct = (app: App, context: ServerContext, type: PlainAct): void => {
  app.post(
    `/api/stations/:id/${type}`,
    describeRoute('tend-stations', 'charges', PLAIN_ACTS[type], {
      params: StationId,
      body: NothingBody,
      response: { 200: Done },
    }),
    async (request) => {
      const { id } = request.params as { id: string };
      const { reason } = request.body as { reason?: string };
      const station = requireStation(context.running, id);
      await performAtStation(context, request, station.id, { type, ...(reason !== undefined && { reason }) });
      return DONE;
    },
  );
};

export const stationActs = (app: App, context: ServerContext): void => {
  app.post(
    '/api/stations/:id/load-in',
    describeRoute('tend-stations', 'charges', 'Record that a load was laid in', {
      params: StationId,
      body: LoadInBody,
      response: { 200: Done },
    }),
    async (request) => {
      const station = requireStation(context.running, request.params.id);
      const { load } = request.body;
      await performAtStation(context, request, station.id, { type: 'load-in', load });
      return DONE;
    },
  );
  for (const type of Object.keys(PLAIN_ACTS) as PlainAct[]) plainAct(app, context, type);
};
