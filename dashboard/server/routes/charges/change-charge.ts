// A pot was emptied and filled with fresh wax.

import type { Charge } from '../../../../lab/charge.ts';
import { ChangeChargeBody, ChargeView } from '../../../api/charges.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { shortId } from '../../sign-in/secret.ts';
import { describeRoute } from '../common/describe-route.ts';
import { StationId } from '../common/station-of-request.ts';
import { lotOfWax } from '../lots/lot-of-request.ts';
import { doneAt } from './charge-records.ts';
import { chargeView } from './charge-view.ts';
import { chargeIn, requirePot, performAtStation } from './pot.ts';
import { iso } from '../../../../wax/iso.ts';

export const changeCharge = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/stations/:id/charge',
    describeRoute('tend-stations', 'charges', 'Record that the pot was emptied and filled with fresh wax', {
      description: 'The charge before ends; the heat dose starts at nought.',
      params: StationId,
      body: ChangeChargeBody,
      response: { 200: ChargeView },
    }),
    async (request) => {
      const station = requirePot(running, request.params.id);
      const { wax, grams, reason } = request.body;
      const lot = lotOfWax(running, request.body.lot, wax);
      const at = doneAt(request.body.at, running.now(), chargeIn(running, station.id));
      const startedAt = iso(at ?? running.now());
      const charge: Charge = {
        id: `${station.id}-${shortId(6)}`,
        station: station.id,
        wax,
        ...(lot !== undefined && { lot }),
        grams,
        startedAt,
        topUps: [],
        cleanedAt: startedAt,
        endedAt: null,
      };
      const act = {
        type: 'charge-changed',
        id: charge.id,
        wax,
        grams,
        ...(at !== undefined && { at }),
        ...(reason !== undefined && { reason }),
      } as const;
      await performAtStation(context, request, station.id, act, () => {
        const before = chargeIn(running, station.id);
        if (before !== null) running.repository.saveCharge({ ...before, endedAt: startedAt });
        running.repository.saveCharge(charge);
      });
      return chargeView(running, charge);
    },
  );
};
