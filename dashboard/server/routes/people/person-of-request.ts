// The person that a request is about, and what must hold before one leaves or loses the role of manager.

import { Type } from 'typebox';
import type { Person } from '../../../../lab/person.ts';
import { epochMillis, MILLIS_PER_DAY } from '../../../../wax/units.ts';
import type { InvitationView } from '../../../api/people.ts';
import type { RunningLab } from '../../../queries/running-lab.ts';
import { HttpProblem } from '../../base/problem.ts';
import type { ServerContext } from '../../context/server-context.ts';
import { INVITATION_DAYS } from '../../sign-in/credentials.ts';
import { personView } from '../../views/person-view.ts';
import { iso } from '../../../../wax/iso.ts';

export const PersonId = Type.Object({ id: Type.String({ maxLength: 64, description: 'Id of the person' }) });

export const requirePerson = (running: RunningLab, id: string): Person => {
  const person = running.lab().people.find((each) => each.id === id);
  if (person === undefined) throw new HttpProblem('unknown-person', { values: { id } });
  return person;
};

/** @throws when nobody but `leaving` is a manager who can sign in */
export const refuseLastManager = ({ running, signIn }: ServerContext, leaving: Person): void => {
  const hasSuccessor = running
    .lab()
    .people.some(
      ({ id, role }) => id !== leaving.id && role === 'manager' && signIn.credentials.passwordOf(id) !== null,
    );
  if (leaving.role === 'manager' && !hasSuccessor) throw new HttpProblem('last-manager');
};

export const createInvitation = ({ running, signIn }: ServerContext, person: Person): InvitationView => ({
  person: personView(person, signIn),
  code: signIn.credentials.invite(person.id),
  expiresAt: iso(epochMillis(running.now() + INVITATION_DAYS * MILLIS_PER_DAY)),
});
