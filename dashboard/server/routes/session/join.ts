// A password is set with a one-time code: by the first person, by whoever was invited, after a forgotten password.

import type { Static } from 'typebox';
import type { Person } from '../../../../lab/person.ts';
import { JoinBody, SessionView } from '../../../api/people.ts';
import type { App } from '../../base/app.ts';
import { fieldProblem, HttpProblem } from '../../base/problem.ts';
import { auditChange } from '../../context/audit-change.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { refuseWeakPassword, throttleAttempt } from '../../sign-in/attempt.ts';
import { createPerson, refuseNameTaken } from '../../sign-in/naming.ts';
import { describeRoute } from '../common/describe-route.ts';
import { checkSecondFactor } from './check-second-factor.ts';
import { beginSession } from './describe-session.ts';

interface Joining {
  readonly person: Person;
  readonly isFirst: boolean;
}

/** The person whom the code was made for; the first person of a lab is made from the name that was typed. */
const findJoining = (
  { running, signIn }: ServerContext,
  { code, name, language }: Static<typeof JoinBody>,
): Joining => {
  const invitation = signIn.credentials.invitation(code);
  if (invitation === null) throw new HttpProblem('wrong-code');
  const { people } = running.lab();
  if (invitation.person !== null) {
    const person = people.find(({ id }) => id === invitation.person);
    if (person === undefined) throw new HttpProblem('wrong-code');
    return { person, isFirst: false };
  }
  if (name === undefined) throw fieldProblem('/body/name', 'field-missing', { name: 'name' });
  refuseNameTaken(people, name);
  return { person: createPerson(people, name, 'manager', language ?? 'en'), isFirst: true };
};

export const join = (app: App, context: ServerContext): void => {
  const { running, signIn, audit, options } = context;
  app.post(
    '/api/join',
    describeRoute('nothing', 'people', 'Set a password with a one-time code', {
      description:
        'The first person uses the code that the console printed and becomes manager; everyone else the code that ' +
        'a manager handed over, also after a forgotten password. A code serves once. Signs in at once.',
      body: JoinBody,
      response: { 200: SessionView },
    }),
    async (request, reply) => {
      const { code, password, secondFactor } = request.body;
      const isOpen = await throttleAttempt(
        ...([signIn, request, 'one-time code', true] as const),
        async () => signIn.credentials.invitation(code) !== null,
      );
      if (!isOpen) throw new HttpProblem('wrong-code');
      const { person, isFirst } = findJoining(context, request.body);
      const { site } = running.lab();
      refuseWeakPassword(password, [person.name, person.id, site.name, site.id]);
      const hash = await signIn.passwords.hash(password);
      await checkSecondFactor(context, request, person, secondFactor, false);
      options.database.transaction(() => {
        // Of two requests with one code the second comes too late.
        if (!signIn.credentials.useInvitation(code)) throw new HttpProblem('wrong-code');
        if (isFirst) running.repository.savePerson(person);
        signIn.credentials.setPassword(person.id, hash);
        signIn.sessions.endAll(person.id);
        auditChange(audit, request, {
          action: 'password-set',
          subject: ['person', person.id],
          after: isFirst ? person : null,
          actor: person.name,
        });
      });
      return beginSession(context, request, reply, person);
    },
  );
};
