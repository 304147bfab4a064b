// Writes a change into the audit trail with who made it and from where; one that would take back unseen what somebody
// else has saved is refused first. It goes before what is saved, or into one transaction with it.

import type { FastifyRequest } from 'fastify';
import type { AuditEntity } from '../../api/audit-entities.ts';
import type { Audit } from './audit.ts';
import type { ServerContext } from './server-context.ts';
import { actorName, standpointOf } from '../sign-in/actor.ts';
import { actorOf } from '../sign-in/guard.ts';
import { refuseOverwrite } from './refuse-overwrite.ts';

export interface AuditedChange {
  readonly action: string;
  /** What was changed, and its id. */
  readonly subject: readonly [entity: AuditEntity, id: string];
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
  const [entity, entityId] = change.subject;
  audit.record({
    actor: change.actor ?? actorName(actor),
    role: actor.kind === 'nobody' ? 'nobody' : standpointOf(actor),
    address: request.ip,
    action: change.action,
    entity,
    entityId,
    before: change.before ?? null,
    after: change.after ?? null,
    reason: change.reason ?? null,
  });
};

/**
 * Saves a change and writes it into the audit trail, in one transaction.
 * @throws HttpProblem `changed-meanwhile`
 */
export const saveAudited = (
  { audit, options }: ServerContext,
  request: FastifyRequest,
  save: () => void,
  change: AuditedChange,
): void =>
  options.database.transaction(() => {
    audited(audit, request, change);
    save();
  });
