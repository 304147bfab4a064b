// A maker calls a lot back: one search over maker and number answers which patterns and pots hold its wax.

import { Type } from 'typebox';
import { lotsNamed, recall } from '../../../../lab/patterns/recall.ts';
import { RecallView } from '../../../api/lots.ts';
import type { App } from '../../base/app.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { lotView } from '../../views/lot-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireLot } from './lot-of-request.ts';

export const recallLots = (app: App, { running, audit }: ServerContext): void => {
  const { repository } = running;
  app.get(
    '/api/recall',
    describeRoute('read', 'lots', 'Patterns and pots that hold the wax of a lot', {
      description:
        'By maker or lot number as they are typed (`text`), or by the id of one lot. A pattern holds what its charge held when it was made.',
      querystring: Type.Object({
        text: Type.Optional(Type.String({ maxLength: 80 })),
        lot: Type.Optional(Type.String({ maxLength: 20 })),
      }),
      response: { 200: RecallView },
    }),
    (request, reply) => {
      tagVersion(audit, reply);
      const { text = '', lot } = request.query;
      const lab = running.lab();
      const lots = lot === undefined ? lotsNamed(lab.lots ?? [], text) : [requireLot(running, lot)];
      const found = recall(lots, repository.allCharges(), repository.allPatterns());
      const nameOf = (id: string): string => lab.stations.find((each) => each.id === id)?.name ?? id;
      return {
        lots: lots.map((each) => lotView(running, each)),
        patterns: found.patterns.map(({ pattern, share, lot: id }) => {
          const stay = pattern.stays.at(-1);
          return {
            id: pattern.id,
            caseReference: pattern.caseReference,
            lot: id,
            share,
            madeAt: pattern.madeAt,
            stationName:
              pattern.fate === null && stay !== undefined && stay.to === null ? nameOf(stay.station) : null,
            fate: pattern.fate === null ? null : { kind: pattern.fate.kind, at: pattern.fate.at },
          };
        }),
        charges: found.charges.map(({ charge, share, lot: id }) => ({
          id: charge.id,
          station: charge.station,
          stationName: nameOf(charge.station),
          lot: id,
          share,
          startedAt: charge.startedAt,
          endedAt: charge.endedAt,
        })),
      };
    },
  );
};
