// A person as it crosses the wire; of the password and the second factor only whether there is one.

import type { Person } from '../../../lab/person.ts';
import type { PersonView } from '../../api/people.ts';
import type { SignIn } from '../sign-in/sign-in.ts';

export const personView = (
  person: Person,
  { credentials, secondFactors }: Pick<SignIn, 'credentials' | 'secondFactors'>,
): PersonView => {
  const recoveryCodesLeft = secondFactors.recoveryCodesLeft(person.id);
  return {
    ...person,
    hasPassword: credentials.passwordOf(person.id) !== null,
    ...(recoveryCodesLeft !== null && { secondFactor: { recoveryCodesLeft } }),
  };
};
