// What a manager does to a person's access: a new one-time code, the end of all sessions, leaving the lab.

import { withoutPerson } from '../../../../alerts/notices/duty/without-person.ts';
import { InvitationView } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { openMailRecord } from '../../../reports/night/mail-record.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { DONE, Done } from '../common/answers.ts';
import { describeRoute } from '../common/describe-route.ts';
import { requirePerson, createInvitation, PersonId, refuseLastManager } from './person-of-request.ts';

export const removePerson = (app: App, context: ServerContext): void => {
  const { running, signIn, audit, options } = context;
  const nightMail = openMailRecord(options.database);
  app.delete(
    '/api/people/:id',
    describeRoute('manage-people', 'people', 'Remove a person', {
      description:
        'Sessions, password, phones and places in the notification plan go at once. What the person did stays in the histories by name.',
      params: PersonId,
      response: { 200: Done },
    }),
    (request) => {
      const before = requirePerson(running, request.params.id);
      refuseLastManager(context, before);
      options.database.transaction(() => {
        const { site, notificationPlan } = running.lab();
        running.repository.removePerson(before.id);
        if (notificationPlan !== undefined)
          running.repository.saveNotificationPlan(
            withoutPerson(notificationPlan, site.timeZone, before.id, running.now()),
          );
        const setting = nightMail.setting();
        nightMail.change({ ...setting, recipients: setting.recipients.filter((id) => id !== before.id) });
        running.notices.unsubscribeAll(before.id);
        signIn.credentials.remove(before.id);
        signIn.secondFactors.switchOff(before.id);
        signIn.sessions.endAll(before.id);
        auditChange(audit, request, { action: 'person-removed', subject: ['person', before.id], before });
      });
      return DONE;
    },
  );
};

export const invitePerson = (app: App, context: ServerContext): void => {
  app.post(
    '/api/people/:id/invite',
    describeRoute('manage-people', 'people', 'Give a person a new one-time code', {
      description: 'For a forgotten password. The old password holds until the code is used.',
      params: PersonId,
      response: { 200: InvitationView },
    }),
    (request) => {
      const person = requirePerson(context.running, request.params.id);
      auditChange(context.audit, request, { action: 'person-invited', subject: ['person', person.id] });
      return createInvitation(context, person);
    },
  );
};

export const endSessionsOfPerson = (app: App, { running, signIn, audit }: ServerContext): void => {
  app.delete(
    '/api/people/:id/sessions',
    describeRoute('manage-people', 'people', 'End all sessions of a person', {
      params: PersonId,
      response: { 200: Done },
    }),
    (request) => {
      const person = requirePerson(running, request.params.id);
      signIn.sessions.endAll(person.id);
      auditChange(audit, request, { action: 'sessions-ended', subject: ['person', person.id] });
      return DONE;
    },
  );
};
