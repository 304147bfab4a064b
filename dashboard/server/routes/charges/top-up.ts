// Fresh wax was added to a pot.

import { ChargeView, TopUpBody } from '../../../api/charges.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { shortId } from '../../sign-in/secret.ts';
import { describeRoute } from '../common/describe-route.ts';
import { StationId } from '../common/station-of-request.ts';
import { lotOfWax } from '../lots/lot-of-request.ts';
import { doneAt, withTopUp } from './charge-records.ts';
import { chargeView } from './charge-view.ts';
import { requireCharge, requirePot, performAtStation } from './pot.ts';
import { iso } from '../../../../wax/iso.ts';

export const topUpCharge = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/stations/:id/top-up',
    describeRoute('tend-stations', 'charges', 'Record that fresh wax was added', {
      description: 'The dose falls by the share of fresh wax: added grams over the grams of a full charge.',
      params: StationId,
      body: TopUpBody,
      response: { 200: ChargeView },
    }),
    async (request) => {
      const station = requirePot(running, request.params.id);
      const charge = requireCharge(running, station);
      const fraction = Math.min(1, request.body.grams / charge.grams);
      const at = doneAt(request.body.at, running.now(), charge);
      const id = shortId(6);
      const lot = lotOfWax(running, request.body.lot, charge.wax);
      const topUp = {
        id,
        at: iso(at ?? running.now()),
        fraction,
        by: authorOf(request),
        ...(lot !== undefined && { lot }),
      };
      const after = withTopUp(charge, topUp);
      const act = { type: 'topped-up', id, fraction, ...(at !== undefined && { at }) } as const;
      await performAtStation(context, request, station.id, act, () => running.repository.saveCharge(after));
      return chargeView(running, after);
    },
  );
};
