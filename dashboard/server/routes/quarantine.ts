// Messages that could not be taken as readings, with the reason.

import { Type } from 'typebox';
import { QuarantineView } from '../../api/schemas.ts';
import { problemText } from '../../../words/problem-text.ts';
import type { App } from '../base/app.ts';
import type { ServerContext } from '../context/server-context.ts';
import { sayToReader } from '../sign-in/reader.ts';
import { describeRoute } from './common/describe-route.ts';
import { iso } from '../../../wax/iso.ts';

export const quarantineRoutes = (app: App, { running }: ServerContext): void => {
  app.get(
    '/api/quarantine',
    describeRoute('read', 'measuring', 'Messages that could not be taken as readings', {
      description: 'Newest first; one row for a topic and a reason, with a count and the newest example.',
      querystring: Type.Object({
        limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000, default: 100 })),
      }),
      response: { 200: Type.Array(QuarantineView) },
    }),
    (request) => {
      const say = sayToReader(request, running);
      return running
        .quarantine(request.query.limit ?? 100)
        .map(({ sample, firstAt, lastAt, values, ...row }) => ({
          ...row,
          reason: row.reason ?? problemText(say, { code: row.code, ...(values !== undefined && { values }) }),
          ...(values !== undefined && { values: { ...values } }),
          firstAt: iso(firstAt),
          lastAt: iso(lastAt),
          sampleBase64: Buffer.from(sample).toString('base64'),
        }));
    },
  );
};
