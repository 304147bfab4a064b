// Writes a change into the audit trail with who made it and from where; one that would take back unseen what somebody
// else has saved is refused first. It goes before what is saved, or into one transaction with it.

import type { FastifyRequest } from 'fastify';
import type { AuditEntity } from '../../api/audit-entities.ts';
import type { App } from '../base/app.ts';
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
  /** Who it was where the request does not hold it yet: at sign-in. */
  readonly actor?: string;
}

/** The changes that a request made, by their numbers in the audit trail. */
const made = new WeakMap<FastifyRequest, readonly number[]>();

/** @throws HttpProblem `changed-meanwhile` */
export const auditChange = (audit: Audit, request: FastifyRequest, change: AuditedChange): void => {
  refuseOverwrite(audit, request, change);
  const actor = actorOf(request);
  const [entity, entityId] = change.subject;
  const sequence = audit.record({
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
  made.set(request, [...(made.get(request) ?? []), sequence]);
};

/** Lists in each answer the changes that its request made, for the `If-Match` of a later one of the same page. */
export const listChanges = (app: App): void => {
  app.addHook('onSend', async (request, reply) => {
    const changes = made.get(request);
    if (changes !== undefined && reply.statusCode < 400) reply.header('changes', changes.join(', '));
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
    auditChange(audit, request, change);
    save();
  });
