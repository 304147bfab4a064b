// The audit trail as it crosses the wire.

import { type Static, Type } from 'typebox';
import { Instant, Nullable } from './schema-parts.ts';

export const AuditRowView = Type.Object({
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
  reason: Nullable(Type.String()),
  hash: Type.String({ description: 'SHA-256 over the row and the hash of the row before' }),
});
export type AuditRowView = Static<typeof AuditRowView>;

/** Whether every row is still as it was written. */
export const AuditVerification = Type.Object({
  ok: Type.Boolean(),
  rows: Type.Integer(),
  head: Type.Optional(Type.String()),
  brokenAt: Type.Optional(Type.Integer()),
});
export type AuditVerification = Static<typeof AuditVerification>;
