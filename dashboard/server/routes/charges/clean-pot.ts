// A pot was cleaned.

import { NothingBody } from '../../../api/patterns.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { StationId } from '../common/station-of-request.ts';
import { chargeIn, requirePot, performAtStation } from './pot.ts';
import { iso } from '../../../../wax/iso.ts';

export const cleanPot = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/stations/:id/cleaned',
    describeRoute('tend-stations', 'charges', 'Record that the pot was cleaned', {
      params: StationId,
      body: NothingBody,
      response: { 200: Done },
    }),
    async (request) => {
      const station = requirePot(running, request.params.id);
      const charge = chargeIn(running, station.id);
      await performAtStation(context, request, station.id, { type: 'cleaned', ...request.body }, () => {
        if (charge !== null) running.repository.saveCharge({ ...charge, cleanedAt: iso(running.now()) });
      });
      return DONE;
    },
  );
};
