// The people of the lab: listed, added, changed. The last manager stays.

import { Type } from 'typebox';
import type { Person } from '../../../../lab/person.ts';
import { InvitationView, NewPersonBody, PersonBody, PersonView } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { auditChange, saveAudited } from '../../context/audit-change.ts';
import { tagVersion } from '../../context/refuse-overwrite.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { createPerson, refuseNameTaken } from '../../sign-in/naming.ts';
import { personView } from '../../views/person-view.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requirePerson, createInvitation, PersonId, refuseLastManager } from './person-of-request.ts';

export const listPeople = (app: App, { running, signIn, audit }: ServerContext): void => {
  app.get(
    '/api/people',
    describeRoute('manage-people', 'people', 'Everyone of the lab', {
      response: { 200: Type.Array(PersonView) },
    }),
    (_request, reply) => {
      tagVersion(audit, reply);
      return running.lab().people.map((person) => personView(person, signIn));
    },
  );
};

export const addPerson = (app: App, context: ServerContext): void => {
  const { running, audit, options } = context;
  app.post(
    '/api/people',
    describeRoute('manage-people', 'people', 'Add a person', {
      description: 'Answers a one-time code, valid for seven days, with which the person sets a password.',
      body: NewPersonBody,
      response: { 200: InvitationView },
    }),
    (request) => {
      const { name, role, preferences = {} } = request.body;
      const { people } = running.lab();
      refuseNameTaken(people, name);
      const person: Person = { ...createPerson(people, name, role, 'en'), ...preferences };
      return options.database.transaction(() => {
        running.repository.savePerson(person);
        auditChange(audit, request, {
          action: 'person-added',
          subject: ['person', person.id],
          after: person,
        });
        return createInvitation(context, person);
      });
    },
  );
};

export const changePerson = (app: App, context: ServerContext): void => {
  const { running, signIn } = context;
  app.put(
    '/api/people/:id',
    describeRoute('manage-people', 'people', 'Change a person', {
      description: 'A change of role ends the sessions of that person.',
      params: PersonId,
      body: PersonBody,
      response: { 200: PersonView },
    }),
    (request) => {
      const before = requirePerson(running, request.params.id);
      refuseNameTaken(running.lab().people, request.body.name, before.id);
      if (request.body.role !== 'manager') refuseLastManager(context, before);
      const after: Person = { ...request.body, name: request.body.name.trim(), id: before.id };
      const save = (): void => {
        running.repository.savePerson(after);
        if (after.role !== before.role) signIn.sessions.endAll(before.id);
      };
      saveAudited(context, request, save, {
        action: 'person-saved',
        subject: ['person', before.id],
        before,
        after,
      });
      running.notices.notifyOfNewEmail(before, after, request.ip);
      return personView(after, signIn);
    },
  );
};
