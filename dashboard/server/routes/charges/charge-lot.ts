// The lot of wax that is in a pot already, or was: entered or corrected afterwards, of the filling or of one top-up.

import { Type } from 'typebox';
import type { Charge } from '../../../../lab/charge.ts';
import { ChargeLotBody, ChargeView } from '../../../api/charges.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { lotOfWax } from '../lots/lot-of-request.ts';
import { chargeView } from './charge-view.ts';

const withLot = (charge: Charge, lot: string | undefined, toppedUpAt: string | undefined): Charge => {
  const of = <T extends { readonly lot?: string }>({ lot: _, ...rest }: T) =>
    lot === undefined ? rest : { ...rest, lot };
  if (toppedUpAt === undefined) return of(charge) as Charge;
  const isMeant = (at: string): boolean => Date.parse(at) === Date.parse(toppedUpAt);
  if (!charge.topUps.some(({ at }) => isMeant(at))) throw fieldProblem('/body/toppedUpAt', 'no-top-up-then');
  return { ...charge, topUps: charge.topUps.map((topUp) => (isMeant(topUp.at) ? of(topUp) : topUp)) };
};

export const chargeLot = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.put(
    '/api/charges/:id/lot',
    describeRoute('tend-stations', 'charges', 'Record afterwards which lot the wax of a charge was from', {
      description:
        'Of its filling, or of one top-up; charges that ended too, so that a recall finds their patterns.',
      params: Type.Object({ id: Type.String({ maxLength: 60 }) }),
      body: ChargeLotBody,
      response: { 200: ChargeView },
    }),
    (request) => {
      const before = running.repository.findCharge(request.params.id);
      if (before === undefined) throw new HttpProblem('no-charge');
      const { lot, toppedUpAt } = request.body;
      const after = withLot(before, lotOfWax(running, lot ?? undefined, before.wax), toppedUpAt);
      saveAudited(context, request, () => running.repository.saveCharge(after), {
        action: 'charge-lot-entered',
        subject: ['station', before.station],
        before,
        after,
      });
      return chargeView(running, after);
    },
  );
};
