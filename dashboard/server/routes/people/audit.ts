// The audit trail, to be read and verified by managers.

import { Type } from 'typebox';
import { AuditRowView, AuditVerification } from '../../../api/audit.ts';
import type { App } from '../../base/app.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { describeRoute } from '../common/describe-route.ts';
import { iso } from '../../../../wax/iso.ts';

export const auditRoutes = (app: App, { audit }: ServerContext): void => {
  app.get(
    '/api/audit',
    describeRoute('read-audit', 'people', 'Who changed what, newest first', {
      querystring: Type.Object({
        before: Type.Optional(Type.Integer({ minimum: 1, description: 'Only rows before this sequence' })),
        entity: Type.Optional(Type.String({ maxLength: 64 })),
        entityId: Type.Optional(Type.String({ maxLength: 300 })),
        limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 1000, default: 100 })),
      }),
      response: { 200: Type.Array(AuditRowView) },
    }),
    (request) =>
      audit
        .list({ ...request.query, limit: request.query.limit ?? 100 })
        .map((row) => ({ ...row, at: iso(row.at) })),
  );
  app.get(
    '/api/audit/verify',
    describeRoute('read-audit', 'people', 'Verify the chain of the audit trail', {
      description:
        'Every row is hashed again. `brokenAt` is the first row that is not as it was written. Keep `head` elsewhere ' +
        'from time to time: rows that are missing at the end show only against a head that was kept.',
      response: { 200: AuditVerification },
    }),
    () => audit.verify(),
  );
};
