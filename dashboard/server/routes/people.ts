// The people of the lab, for managers. A manager invites; the person sets the password. The last manager stays.

import { Type } from 'typebox';
import type { Person } from '../../../lab/person.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../../wax/units.ts';
import { InvitationView, NewPersonBody, PersonBody, PersonView } from '../../api/people.ts';
import type { App } from '../base/app.ts';
import { audited } from '../context/audited.ts';
import { iso } from '../base/instant.ts';
import { HttpProblem } from '../base/problem.ts';
import type { ServerContext } from '../context/server-context.ts';
import { INVITATION_DAYS } from '../sign-in/credentials.ts';
import { newPerson, refuseNameTaken } from '../sign-in/naming.ts';
import { personView } from '../views/person-view.ts';
import { answers, DONE, Done } from './answers.ts';

const PersonId = Type.Object({ id: Type.String({ maxLength: 64, description: 'Id of the person' }) });

export const peopleRoutes = (app: App, { running, signIn, audit, options }: ServerContext): void => {
  const config = { needs: 'manage-people' } as const;
  const { repository } = running;
  const people = () => running.lab().people;
  const known = (id: string): Person => {
    const person = people().find((one) => one.id === id);
    if (person === undefined) throw new HttpProblem('unknown-person', `The lab has no person "${id}".`);
    return person;
  };
  const refuseLastManager = (leaving: Person): void => {
    const others = people().filter(
      (one) =>
        one.id !== leaving.id && one.role === 'manager' && signIn.credentials.passwordOf(one.id) !== null,
    );
    if (leaving.role === 'manager' && others.length === 0)
      throw new HttpProblem(
        'last-manager',
        'Make somebody else manager first, and wait until they have signed in.',
      );
  };
  const invitation = (person: Person) => ({
    person: personView(person, signIn.credentials),
    code: signIn.credentials.invite(person.id),
    expiresAt: iso(epochMillis(running.now() + INVITATION_DAYS * MILLIS_PER_DAY)),
  });

  app.get(
    '/api/people',
    {
      config,
      schema: { tags: ['people'], summary: 'Everyone of the lab', response: answers(Type.Array(PersonView)) },
    },
    () => people().map((person) => personView(person, signIn.credentials)),
  );
  app.post(
    '/api/people',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Add a person',
        description: 'Answers a one-time code, valid for seven days, with which the person sets a password.',
        body: NewPersonBody,
        response: answers(InvitationView),
      },
    },
    (request) => {
      const { name, role, preferences = {} } = request.body;
      refuseNameTaken(people(), name);
      const person: Person = { ...newPerson(people(), name, role, 'en'), ...preferences };
      return options.database.transaction(() => {
        repository.savePerson(person);
        audited(audit, request, {
          action: 'person-added',
          entity: 'person',
          entityId: person.id,
          after: person,
        });
        return invitation(person);
      });
    },
  );
  app.put(
    '/api/people/:id',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Change a person',
        description: 'A change of role ends the sessions of that person.',
        params: PersonId,
        body: PersonBody,
        response: answers(PersonView),
      },
    },
    (request) => {
      const before = known(request.params.id);
      refuseNameTaken(people(), request.body.name, before.id);
      if (request.body.role !== 'manager') refuseLastManager(before);
      const after: Person = { ...request.body, name: request.body.name.trim(), id: before.id };
      options.database.transaction(() => {
        repository.savePerson(after);
        if (after.role !== before.role) signIn.sessions.endAll(before.id);
        audited(audit, request, {
          action: 'person-saved',
          entity: 'person',
          entityId: before.id,
          before,
          after,
        });
      });
      return personView(after, signIn.credentials);
    },
  );
  app.delete(
    '/api/people/:id',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Remove a person',
        description: 'Sessions and password go at once. What the person did stays in the histories by name.',
        params: PersonId,
        response: answers(Done),
      },
    },
    (request) => {
      const before = known(request.params.id);
      refuseLastManager(before);
      options.database.transaction(() => {
        repository.removePerson(before.id);
        signIn.credentials.remove(before.id);
        signIn.sessions.endAll(before.id);
        audited(audit, request, { action: 'person-removed', entity: 'person', entityId: before.id, before });
      });
      return DONE;
    },
  );
  app.post(
    '/api/people/:id/invite',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'Give a person a new one-time code',
        description: 'For a forgotten password. The old password holds until the code is used.',
        params: PersonId,
        response: answers(InvitationView),
      },
    },
    (request) => {
      const person = known(request.params.id);
      audited(audit, request, { action: 'person-invited', entity: 'person', entityId: person.id });
      return invitation(person);
    },
  );
  app.delete(
    '/api/people/:id/sessions',
    {
      config,
      schema: {
        tags: ['people'],
        summary: 'End all sessions of a person',
        params: PersonId,
        response: answers(Done),
      },
    },
    (request) => {
      const person = known(request.params.id);
      signIn.sessions.endAll(person.id);
      audited(audit, request, { action: 'sessions-ended', entity: 'person', entityId: person.id });
      return DONE;
    },
  );
};
