// The newest change of charge or top-up of a pot was entered by mistake and is taken back.

import { Type } from 'typebox';
import { ChargeView, TakeBackBody } from '../../../api/charges.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { describeRoute } from '../common/describe-route.ts';
import { StationId } from '../common/station-of-request.ts';
import { afterTakingBack, newestAct } from './charge-records.ts';
import { chargeView } from './charge-view.ts';
import { requireCharge, requirePot, performAtStation } from './pot.ts';

export const takeBackCharge = (app: App, context: ServerContext): void => {
  const { running } = context;
  const { repository } = running;
  app.post(
    '/api/stations/:id/take-back',
    describeRoute('tend-stations', 'charges', 'Take back the newest change of charge or top-up', {
      description:
        'For what was entered by mistake, within 24 hours: the charge before goes on, and its heat dose has counted all the while.',
      params: StationId,
      body: TakeBackBody,
      response: { 200: Type.Array(ChargeView) },
    }),
    async (request) => {
      const station = requirePot(running, request.params.id);
      const { id, reason } = request.body;
      const charge = requireCharge(running, station);
      if (newestAct(charge, running.now())?.id !== id) throw new HttpProblem('nothing-to-take-back');
      const by = authorOf(request);
      const charges = afterTakingBack(charge, repository.allCharges(station.id), running.now(), {
        by,
        reason,
      });
      await performAtStation(context, request, station.id, { type: 'charge-taken-back', id, reason }, () => {
        for (const changed of charges) repository.saveCharge(changed);
      });
      return repository.allCharges(station.id).map((each) => chargeView(running, each));
    },
  );
};
