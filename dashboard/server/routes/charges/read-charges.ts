// The charges of wax, and the curve of the heat dose of one.

import { Type } from 'typebox';
import { DoseCurveView, ChargeView } from '../../../api/charges.ts';
import type { App } from '../../base/app.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { doseCurveView } from '../../views/dose-curve-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { chargeView } from './charge-view.ts';

export const readCharges = (app: App, { running }: ServerContext): void => {
  const { repository } = running;
  app.get(
    '/api/charges',
    describeRoute('read', 'charges', 'The charges of wax, those in the pots and those that ended', {
      description: 'Newest first. The dose is in hours at the reference temperature of the wax (Arrhenius).',
      querystring: Type.Object({ station: Type.Optional(Type.String({ maxLength: 64 })) }),
      response: { 200: Type.Array(ChargeView) },
    }),
    (request) => repository.allCharges(request.query.station).map((charge) => chargeView(running, charge)),
  );
  app.get(
    '/api/charges/:id/curve',
    describeRoute(
      'read',
      'charges',
      'The curve of the heat dose of a charge, the day it is spent, and what would spare it',
      {
        description:
          'From means of the store, so its end may differ a little from the running dose. The forecast carries the habits of the last fortnight on.',
        params: Type.Object({ id: Type.String({ maxLength: 60 }) }),
        response: { 200: DoseCurveView },
      },
    ),
    (request) => {
      const charge = repository.findCharge(request.params.id);
      if (charge === undefined) throw new HttpProblem('no-charge');
      return doseCurveView(running, charge);
    },
  );
};
