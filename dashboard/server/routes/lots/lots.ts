// Lots of wax: read, recorded, corrected, removed while nothing holds their wax.

import type { FastifyRequest } from 'fastify';
import { Type } from 'typebox';
import type { WaxLot } from '../../../../lab/wax-lot.ts';
import { checkedWaxClass } from '../../../../wax/wax-class.ts';
import { type LotBody, LotBody as LotBodySchema, LotSheetBody, LotView } from '../../../api/lots.ts';
import type { App } from '../../base/app.ts';
import { fieldOf, HttpProblem } from '../../base/problem.ts';
import { saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { authorOf } from '../../sign-in/guard.ts';
import { shortId } from '../../sign-in/secret.ts';
import { isLotUsed, lotView } from '../../views/lot-view.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requireLot } from './lot-of-request.ts';
import { iso } from '../../../../wax/iso.ts';

const ID_LENGTH = 6;
const LotId = Type.Object({ id: Type.String({ maxLength: 20, description: 'Id of the lot' }) });

const lotFacts = ({ wax, maker, lot, expiresOn }: LotBody) => ({
  wax,
  maker: maker.trim(),
  lot: lot.trim(),
  expiresOn: expiresOn ?? null,
});

/** A class that the values of its sheet would contradict, or a lot of another class whose wax is in use. */
const refuse = (context: ServerContext, before: WaxLot, after: WaxLot): void => {
  const { running } = context;
  if (before.wax !== after.wax && isLotUsed(running, before)) throw new HttpProblem('lot-in-use');
  const checked = checkedWaxClass(after.wax, running.lab().waxOverrides[after.wax], {
    ...after,
    values: after.sheetValues,
  });
  if (!checked.ok)
    throw new HttpProblem('lab-contradiction', { errors: [fieldOf('/body/values', checked.problem)] });
};

export const readLots = (app: App, { running, audit }: ServerContext): void => {
  app.get(
    '/api/lots',
    describeRoute('read', 'lots', 'Lots of wax, newest first, with the values that count for each', {
      response: { 200: Type.Array(LotView) },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return [...(running.lab().lots ?? [])]
        .sort((left, right) => Date.parse(right.recordedAt) - Date.parse(left.recordedAt))
        .map((lot) => lotView(running, lot));
    },
  );
};

export const addLot = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.post(
    '/api/lots',
    describeRoute('tend-stations', 'lots', 'Record a lot of wax: maker, number and expiry', {
      body: LotBodySchema,
      response: { 200: LotView },
    }),
    (request) => {
      const lot: WaxLot = {
        id: shortId(ID_LENGTH),
        ...lotFacts(request.body),
        sheetValues: {},
        recordedAt: iso(running.now()),
        recordedBy: authorOf(request),
      };
      saveAudited(context, request, () => running.repository.saveLot(lot), {
        action: 'lot-added',
        subject: ['lot', lot.id],
        after: lot,
      });
      return lotView(running, lot);
    },
  );
};

export const changeLot = (app: App, context: ServerContext): void => {
  const { running } = context;
  const change = (request: FastifyRequest, before: WaxLot, after: WaxLot): LotView => {
    refuse(context, before, after);
    saveAudited(context, request, () => running.repository.saveLot(after), {
      action: 'lot-changed',
      subject: ['lot', after.id],
      before,
      after,
    });
    return lotView(running, after);
  };
  app.put(
    '/api/lots/:id',
    describeRoute('tend-stations', 'lots', 'Correct maker, number, expiry or wax class of a lot', {
      description: 'The class of a lot whose wax is in use cannot be changed.',
      params: LotId,
      body: LotBodySchema,
      response: { 200: LotView },
    }),
    (request) => {
      const before = requireLot(running, request.params.id);
      return change(request, before, { ...before, ...lotFacts(request.body) });
    },
  );
  app.put(
    '/api/lots/:id/sheet',
    describeRoute('set-up-lab', 'lots', "Set what the maker's sheet of a lot states", {
      description:
        "Where wax of the lot is, these count before the lab's own values of its class and before the table. A ceiling above the maker's risks burns and fire.",
      params: LotId,
      body: LotSheetBody,
      response: { 200: LotView },
    }),
    (request) => {
      const before = requireLot(running, request.params.id);
      return change(request, before, { ...before, sheetValues: request.body.values });
    },
  );
};

export const removeLot = (app: App, context: ServerContext): void => {
  const { running } = context;
  app.delete(
    '/api/lots/:id',
    describeRoute('tend-stations', 'lots', 'Remove a lot that was recorded by mistake', {
      description: 'Refused once a charge or a pattern holds its wax.',
      params: LotId,
      response: { 200: Done },
    }),
    (request) => {
      const before = requireLot(running, request.params.id);
      if (isLotUsed(running, before)) throw new HttpProblem('lot-in-use');
      saveAudited(context, request, () => running.repository.removeLot(before.id), {
        action: 'lot-removed',
        subject: ['lot', before.id],
        before,
      });
      return DONE;
    },
  );
};
