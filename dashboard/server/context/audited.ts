// Writes a change into the audit trail with who made it and from where; one that would take back unseen what somebody
// else has saved is refused first. It goes before what is saved, or into one transaction with it.

import type { FastifyRequest } from 'fastify';
import type { AuditEntity } from '../../api/audit-entities.ts';
import type { Audit } from './audit.ts';
import { actorName, standpointOf } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { refuseOverwrite } from './refuse-overwrite.ts';

export interface AuditedChange {
  readonly action: string;
  readonly entity: AuditEntity;
  readonly entityId: string;
  readonly before?: unknown;
  readonly after?: unknown;
  readonly reason?: string | undefined;
  /** Who it was where the request does not say yet: at sign-in. */
  readonly actor?: string;
}

/** @throws HttpProblem `changed-meanwhile` */
export const audited = (audit: Audit, request: FastifyRequest, change: AuditedChange): void => {
  refuseOverwrite(audit, request, change);
  const actor = actorOf(request);
  audit.record({
    actor: change.actor ?? actorName(actor),
    role: actor.kind === 'nobody' ? 'nobody' : standpointOf(actor),
    address: request.ip,
    action: change.action,
    entity: change.entity,
    entityId: change.entityId,
    before: change.before ?? null,
    after: change.after ?? null,
    reason: change.reason ?? null,
  });
};
