// A person as it crosses the wire; of the password only whether there is one.

import type { Person } from '../../../lab/person.ts';
import type { PersonView } from '../../api/people.ts';
import type { Credentials } from '../sign-in/credentials.ts';

export const personView = (person: Person, credentials: Credentials): PersonView => ({
  ...person,
  hasPassword: credentials.passwordOf(person.id) !== null,
});
