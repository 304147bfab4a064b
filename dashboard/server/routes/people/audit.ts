// The audit trail, to be read and verified by managers.

import { Type } from 'typebox';
import { Instant } from '../../../api/schema-parts.ts';
import type { App } from '../../base/app.ts';
import { iso } from '../../base/instant.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { answers } from '../common/answers.ts';

const AuditRowView = Type.Object({
  sequence: Type.Integer(),
  at: Instant,
  actor: Type.String(),
  role: Type.String(),
  address: Type.String(),
  action: Type.String(),
  entity: Type.String(),
  entityId: Type.String(),
  before: Type.Unknown(),
  after: Type.Unknown(),
  reason: Type.Union([Type.String(), Type.Null()]),
  hash: Type.String({ description: 'SHA-256 over the row and the hash of the row before' }),
});

export const auditRoutes = (app: App, { audit }: ServerContext): void => {
  app.get(
    '/api/audit',
    {
      config: { needs: 'read-audit' },
      schema: {
        tags: ['people'],
        summary: 'Who changed what, newest first',
        querystring: Type.Object({
          before: Type.Optional(Type.Integer({ minimum: 1, description: 'Only rows before this sequence' })),
          entity: Type.Optional(Type.String({ maxLength: 64 })),
          entityId: Type.Optional(Type.String({ maxLength: 300 })),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000, default: 100 })),
        }),
        response: answers(Type.Array(AuditRowView)),
      },
    },
    (request) =>
      audit
        .list({ ...request.query, limit: request.query.limit ?? 100 })
        .map((row) => ({ ...row, at: iso(row.at) })),
  );
  app.get(
    '/api/audit/verify',
    {
      config: { needs: 'read-audit' },
      schema: {
        tags: ['people'],
        summary: 'Verify the chain of the audit trail',
        description:
          'Every row is hashed again. `brokenAt` is the first row that is not as it was written. Keep `head` elsewhere ' +
          'from time to time: rows that are missing at the end show only against a head that was kept.',
        response: answers(
          Type.Object({
            ok: Type.Boolean(),
            rows: Type.Integer(),
            head: Type.Optional(Type.String()),
            brokenAt: Type.Optional(Type.Integer()),
          }),
        ),
      },
    },
    () => audit.verify(),
  );
};
