// Signing in and out, the first person, invitations. Wrong tries are slowed, never locked out for good.

import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Person } from '../../../lab/person.ts';
import { ConfirmBody, JoinBody, SessionView, SignInBody } from '../../api/people.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { actorName, standpointOf } from '../sign-in/actor.ts';
import { refuseWeakPassword, throttled } from '../sign-in/attempt.ts';
import { clearCookie, cookieOf, setCookie } from '../sign-in/cookies.ts';
import { actorOf, permissionsOf } from '../sign-in/guard.ts';
import { newPerson, nameKey, personNamed, refuseNameTaken } from '../sign-in/naming.ts';
import { personView } from '../views/person-view.ts';
import { answers, DONE, Done } from './answers.ts';

export const sessionRoutes = (app: App, context: ServerContext): void => {
  const { running, signIn, audit } = context;
  const describe = (request: FastifyRequest) => {
    const actor = actorOf(request);
    const person =
      actor.kind === 'person' ? running.lab().people.find((one) => one.id === actor.person) : undefined;
    return {
      signedIn: actor.kind === 'person',
      standpoint: actor.kind === 'nobody' ? null : standpointOf(actor),
      name: actor.kind === 'nobody' ? null : actorName(actor),
      person: person === undefined ? null : personView(person, signIn.credentials),
      permissions: [...permissionsOf(actor)],
      needsFirstPerson: signIn.needsFirstPerson(),
    };
  };
  const begin = (request: FastifyRequest, reply: FastifyReply, person: Person) => {
    const old = cookieOf(request, 'session');
    const session = old === undefined ? null : signIn.sessions.find(old);
    if (session !== null) signIn.sessions.end(session.person, session.id);
    const secret = signIn.sessions.begin(person.id, request.ip, request.headers['user-agent'] ?? '');
    setCookie(request, reply, 'session', secret);
    const id = signIn.sessions.find(secret)?.id ?? '';
    request.identity = {
      actor: { kind: 'person', person: person.id, name: person.name, role: person.role, session: id },
      stillWelcome: () => true,
    };
    audited(audit, request, { action: 'signed-in', entity: 'person', entityId: person.id });
    return describe(request);
  };

  app.get(
    '/api/session',
    {
      config: { needs: 'nothing' },
      schema: {
        tags: ['people'],
        summary: 'Who is signed in here and may do what',
        response: answers(SessionView),
      },
    },
    describe,
  );
  app.post(
    '/api/session',
    {
      config: { needs: 'nothing' },
      schema: {
        tags: ['people'],
        summary: 'Sign in',
        description:
          'Sets a session cookie that scripts cannot read. Wrong tries are answered ever more slowly (`429` with ' +
          '`Retry-After`), by account and address; nobody is locked out for good.',
        body: SignInBody,
        response: answers(SessionView),
      },
    },
    async (request, reply) => {
      const { name, password } = request.body;
      const person = personNamed(running.lab().people, name);
      const isKnownAddress =
        person !== undefined && signIn.sessions.of(person.id).some((one) => one.address === request.ip);
      const kept = person === undefined ? null : signIn.credentials.passwordOf(person.id);
      const right = await throttled(
        signIn,
        request,
        person?.id ?? `nobody ${nameKey(name)}`,
        isKnownAddress,
        () => signIn.passwords.matches(password, kept),
      );
      if (!right || person === undefined) {
        // A name that is nobody's may be a password typed into the wrong field; it is not written down.
        const [actor, entityId] = person === undefined ? ['nobody', ''] : [person.name, person.id];
        audited(audit, request, { action: 'sign-in-refused', entity: 'person', entityId, actor });
        throw new HttpProblem('wrong-name-or-password', 'The name or the password is wrong.');
      }
      return begin(request, reply, person);
    },
  );
  app.delete(
    '/api/session',
    {
      config: { needs: 'nothing' },
      schema: { tags: ['people'], summary: 'Sign out', response: answers(Done) },
    },
    (request, reply) => {
      const actor = actorOf(request);
      if (actor.kind === 'person') {
        signIn.sessions.end(actor.person, actor.session);
        audited(audit, request, { action: 'signed-out', entity: 'person', entityId: actor.person });
      }
      clearCookie(request, reply, 'session');
      return DONE;
    },
  );
  app.post(
    '/api/session/confirm',
    {
      config: { needs: 'own-account' },
      schema: {
        tags: ['people'],
        summary: 'Type the password again',
        description: 'Set-up and people ask for it when it was last typed more than half an hour ago.',
        body: ConfirmBody,
        response: answers(Done),
      },
    },
    async (request) => {
      const actor = actorOf(request);
      if (actor.kind !== 'person') throw new HttpProblem('not-allowed', 'Only persons have a password.');
      const right = await throttled(signIn, request, actor.person, true, () =>
        signIn.passwords.matches(request.body.password, signIn.credentials.passwordOf(actor.person)),
      );
      if (!right) throw new HttpProblem('wrong-name-or-password', 'The password is wrong.');
      signIn.sessions.confirm(actor.session);
      return DONE;
    },
  );
  app.post(
    '/api/join',
    {
      config: { needs: 'nothing' },
      schema: {
        tags: ['people'],
        summary: 'Set a password with a one-time code',
        description:
          'The first person uses the code that the console printed and becomes manager; everyone else the code that ' +
          'a manager handed over, also after a forgotten password. A code serves once. Signs in at once.',
        body: JoinBody,
        response: answers(SessionView),
      },
    },
    async (request, reply) => {
      const { code, password, name, language } = request.body;
      const right = await throttled(
        signIn,
        request,
        'one-time code',
        true,
        async () => signIn.credentials.invitation(code) !== null,
      );
      const invitation = signIn.credentials.invitation(code);
      if (!right || invitation === null)
        throw new HttpProblem('wrong-code', 'Check the code, or ask for a new one.');
      const { people, site } = running.lab();
      const invited = people.find((one) => one.id === invitation.person);
      if (invitation.person !== null && invited === undefined)
        throw new HttpProblem('wrong-code', 'The person of this code was removed; ask for a new one.');
      if (invited === undefined && name === undefined)
        throw new HttpProblem('wrong-request', 'The first person needs a name.', {
          errors: [{ pointer: '/body/name', detail: 'is missing' }],
        });
      if (invited === undefined) refuseNameTaken(people, name ?? '');
      const person = invited ?? newPerson(people, name ?? '', 'manager', language ?? 'en');
      refuseWeakPassword(password, [person.name, person.id, site.name, site.id]);
      const hash = await signIn.passwords.hash(password);
      // Two requests with one code: the second finds it used.
      if (signIn.credentials.invitation(code) === null)
        throw new HttpProblem('wrong-code', 'The code was used meanwhile.');
      context.options.database.transaction(() => {
        signIn.credentials.useInvitation(code);
        if (invited === undefined) running.repository.savePerson(person);
        signIn.credentials.setPassword(person.id, hash);
        signIn.sessions.endAll(person.id);
        audited(audit, request, {
          action: 'password-set',
          entity: 'person',
          entityId: person.id,
          after: invited === undefined ? person : null,
          actor: person.name,
        });
      });
      return begin(request, reply, person);
    },
  );
};
