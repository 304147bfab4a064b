// Who is signed in here and may do what; and the beginning of a session.

import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Person } from '../../../../lab/person.ts';
import type { SessionView } from '../../../api/people.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { actorName, personOf, standpointOf } from '../../sign-in/actor.ts';
import { cookieOf, setCookie } from '../../sign-in/cookies.ts';
import { actorOf, permissionsOf } from '../../sign-in/guard.ts';
import { personView } from '../../views/person-view.ts';

export const describeSession = ({ running, signIn }: ServerContext, request: FastifyRequest): SessionView => {
  const actor = actorOf(request);
  const person = personOf(actor, running);
  return {
    signedIn: actor.kind === 'person',
    standpoint: actor.kind === 'nobody' ? null : standpointOf(actor),
    name: actor.kind === 'nobody' ? null : actorName(actor),
    person: person === undefined ? null : personView(person, signIn),
    permissions: [...permissionsOf(actor)],
    needsFirstPerson: signIn.needsFirstPerson(),
    ...(actor.kind === 'demo-visitor' && {
      demoPeople: running.lab().people.map(({ id, name, role }) => ({ id, name, role })),
    }),
  };
};

/** Enough to find an address from which the person signs in now and then. */
const SIGN_INS_LOOKED_AT = 200;

/** Where they have signed in before, but never from this address, they are notified of it. */
const notifyOfNewPlace = (
  { running, audit }: ServerContext,
  { ip }: FastifyRequest,
  person: Person,
): void => {
  const before = audit
    .list({ entity: 'person', entityId: person.id, limit: SIGN_INS_LOOKED_AT })
    .filter(({ action }) => action === 'signed-in');
  if (before.length > 0 && before.every(({ address }) => address !== ip))
    running.notices.notifyOfAccount(person, { what: 'signed_in', from: ip });
};

/** Ends the session that the browser had, begins one for `person` and sets its cookie. */
export const beginSession = (
  context: ServerContext,
  request: FastifyRequest,
  reply: FastifyReply,
  person: Person,
): SessionView => {
  const { sessions } = context.signIn;
  const oldSecret = cookieOf(request, 'session');
  const old = oldSecret === undefined ? null : sessions.find(oldSecret);
  if (old !== null) sessions.end(old.person, old.id);
  const secret = sessions.begin(person.id, request.ip, request.headers['user-agent'] ?? '');
  setCookie(request, reply, 'session', secret);
  const session = sessions.find(secret)?.id ?? '';
  request.identity = {
    actor: { kind: 'person', person: person.id, name: person.name, role: person.role, session },
    stillWelcome: () => true,
  };
  notifyOfNewPlace(context, request, person);
  auditChange(context.audit, request, { action: 'signed-in', subject: ['person', person.id] });
  return describeSession(context, request);
};
