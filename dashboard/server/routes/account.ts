// One's own account: how one reads, the password, where one is signed in.

import { Type } from 'typebox';
import type { FastifyRequest } from 'fastify';
import { NewPasswordBody, OpenSession, PersonView, Preferences } from '../../api/people.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { refuseWeakPassword, throttled } from '../sign-in/attempt.ts';
import { actorOf } from '../sign-in/guard.ts';
import { personView } from '../views/person-view.ts';
import { answers, DONE, Done } from './answers.ts';

export const accountRoutes = (app: App, context: ServerContext): void => {
  const { running, signIn, audit } = context;
  const config = { needs: 'own-account' } as const;
  const me = (request: FastifyRequest) => {
    const actor = actorOf(request);
    const person =
      actor.kind === 'person' ? running.lab().people.find((one) => one.id === actor.person) : undefined;
    if (actor.kind !== 'person' || person === undefined)
      throw new HttpProblem('not-allowed', 'Only persons have an account.');
    return { person, session: actor.session };
  };
  app.put(
    '/api/account',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Set how you read and are reached',
        body: Preferences,
        response: answers(PersonView),
      },
    },
    (request) => {
      const { person } = me(request);
      const changed = { ...person, ...request.body };
      running.repository.savePerson(changed);
      audited(audit, request, {
        action: 'preferences-saved',
        entity: 'person',
        entityId: person.id,
        before: person,
        after: changed,
      });
      return personView(changed, signIn.credentials);
    },
  );
  app.put(
    '/api/account/password',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Change your password',
        description: 'All your other sessions end.',
        body: NewPasswordBody,
        response: answers(Done),
      },
    },
    async (request) => {
      const { person, session } = me(request);
      const { site } = running.lab();
      const right = await throttled(signIn, request, person.id, true, () =>
        signIn.passwords.matches(request.body.password, signIn.credentials.passwordOf(person.id)),
      );
      if (!right) throw new HttpProblem('wrong-name-or-password', 'The present password is wrong.');
      refuseWeakPassword(request.body.newPassword, [person.name, person.id, site.name, site.id]);
      signIn.credentials.setPassword(person.id, await signIn.passwords.hash(request.body.newPassword));
      signIn.sessions.endAll(person.id, session);
      audited(audit, request, { action: 'password-set', entity: 'person', entityId: person.id });
      return DONE;
    },
  );
  app.get(
    '/api/account/sessions',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Where you are signed in',
        response: answers(Type.Array(OpenSession)),
      },
    },
    (request) => {
      const { person, session } = me(request);
      return signIn.sessions.of(person.id).map((one) => ({
        id: one.id,
        isThisOne: one.id === session,
        beganAt: iso(one.beganAt),
        seenAt: iso(one.seenAt),
        address: one.address,
        agent: one.agent,
      }));
    },
  );
  app.delete(
    '/api/account/sessions/:id',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'End one of your sessions',
        description: 'For a phone that was lost. What it shows goes dark within a second.',
        params: Type.Object({ id: Type.String({ maxLength: 40 }) }),
        response: answers(Done),
      },
    },
    (request) => {
      const { person } = me(request);
      if (!signIn.sessions.end(person.id, request.params.id))
        throw new HttpProblem('unknown-session', 'It has ended already.');
      audited(audit, request, { action: 'session-ended', entity: 'person', entityId: person.id });
      return DONE;
    },
  );
};
